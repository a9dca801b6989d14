package pwa

import "github.com/maxence-charriere/go-app/v10/pkg/app"

// Shell is the one root component of all routes.
type Shell struct {
	app.Compo

	Path string // address the shell was made for
}

// NewShell returns the root component for the address path.
func NewShell(path string) app.Composer { return &Shell{Path: path} }

// Render shows the name alone on the server: controls would be dead until the program runs.
func (s *Shell) Render() app.UI {
	if app.IsServer {
		return app.Main().Body(app.H1().Text("Torchside"))
	}
	return app.Main().Body(app.H1().Text("Torchside"), app.P().Text(s.Path))
}
