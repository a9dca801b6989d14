package pwa

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/effects"
)

// Route is one place of the app: its address and its title.
type Route struct {
	Path  string
	Title string
	Place string // name of its drawing in the bottom bar; its data-act is "nav-" and this; empty for a page that others lead to
	Under string // address of the place it belongs to, which the bottom bar then marks; empty for a place itself
}

// Routes are all places. The same table feeds the server, the offline copy, the bottom bar and the tests.
var Routes = []Route{
	{Path: "/", Title: "Setup", Place: "setup"},
	{Path: "/leak", Title: "Leak test", Place: "leak"},
	{Path: "/journal", Title: "Journal", Place: "journal"},
	{Path: "/rig", Title: "Rig", Place: "rig"},
	{Path: benchPath, Title: "Bench", Place: "bench"},
	{Path: "/flame", Title: "Flame", Under: benchPath},
	{Path: ordersPath, Title: "Orders of work", Under: benchPath},
	{Path: devicesPath, Title: "Devices and sync", Under: benchPath},
	{Path: tablesPath, Title: "Tables", Under: benchPath},
	{Path: convertPath, Title: "Units", Under: benchPath},
	{Path: airPath, Title: "Air", Under: benchPath},
	{Path: preheatPath, Title: "Preheat", Under: benchPath},
	{Path: timersPath, Title: "Timers", Under: benchPath},
	{Path: pacerPath, Title: "Pacer", Under: benchPath},
	{Path: cutsPath, Title: "Cut list", Under: benchPath},
	{Path: upkeepPath, Title: "Upkeep", Under: benchPath},
	{Path: cylindersPath, Title: "Cylinder log", Under: benchPath},
	{Path: wallPath, Title: "Wall card", Under: benchPath},
}

// benchPath is the place from which the pages that are no place of their own are reached.
const benchPath = "/bench"

// timersPath is the page of timers, to which the bar above every page leads.
const timersPath = benchPath + "/timers"

// pacerPath is the page of the beat of travel.
const pacerPath = benchPath + "/pacer"

// cutsPath is the page of a list of cuts, to which Setup leads from a card for cutting.
const cutsPath = benchPath + "/cuts"

// Pages of one question each.
const (
	convertPath = benchPath + "/convert"
	airPath     = benchPath + "/air"
	preheatPath = benchPath + "/preheat"
)

// upkeepPath is the page of what is due on the rig.
const upkeepPath = benchPath + "/upkeep"

// cylindersPath is the page of the cylinder log.
const cylindersPath = benchPath + "/cylinders"

// wallPath is the card for the wall.
const wallPath = benchPath + "/card"

// placeOf is the address of the place that an address belongs to; itself where it is one, or none of ours.
func placeOf(path string) string {
	if r, ok := routeOf(path); ok && r.Under != "" {
		return r.Under
	}
	return path
}

// anyPath matches every address that is none of ours: the app then says so itself and leads on.
const anyPath = "^/.*$"

// Register makes every route known to go-app for a server, which renders names only and stores nothing; call it once.
func Register() { RegisterWith(nil) }

// RegisterWith makes every route known to go-app for a browser, with the ways out of the app; call it once.
func RegisterWith(ports *effects.Ports) {
	shell := func() app.Composer { return &Shell{Ports: ports} }
	for _, r := range Routes {
		app.Route(r.Path, shell)
	}
	app.RouteWithRegexp(anyPath, shell)
}

// routeOf finds the route of an address; ok is false for an address that is none of ours.
func routeOf(path string) (Route, bool) {
	for _, r := range Routes {
		if r.Path == path {
			return r, true
		}
	}
	return Route{}, false
}
