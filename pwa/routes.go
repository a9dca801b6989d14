package pwa

import "github.com/maxence-charriere/go-app/v10/pkg/app"

// Route is one place of the app: its address and its title.
type Route struct{ Path, Title string }

// Routes are all places. The same table feeds the server, the offline copy and the tests.
var Routes = []Route{
	{Path: "/", Title: "Setup"},
	{Path: "/leak", Title: "Leak test"},
	{Path: "/journal", Title: "Journal"},
	{Path: "/rig", Title: "Rig"},
	{Path: "/bench", Title: "Bench"},
}

// Register makes every route known to go-app; call it once, before serving or running.
func Register() {
	for _, r := range Routes {
		app.Route(r.Path, func() app.Composer { return NewShell(r.Path) })
	}
}
