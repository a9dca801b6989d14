package pwa

import (
	"context"
	"fmt"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/effects"
	"torchside/pwa/pages"
	"torchside/pwa/site"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// Shell is the one root component of all routes. It holds the state, receives every message, and outlives all pages.
type Shell struct {
	app.Compo

	Ports *effects.Ports // nil on the server, which stores nothing

	path     string
	link     state.Msg // what the address asks for, until the records are read
	shown    string    // what the address says lies over the page
	stepping bool      // a step back in the history is under way
	arrived  bool      // at the first address, which a reload keeps
	app      state.App
	guard    tapGuard
	clock    clock
	runner   *effects.Runner
	stop     func()
}

var (
	_ app.Initializer = (*Shell)(nil)
	_ app.Mounter     = (*Shell)(nil)
	_ app.Navigator   = (*Shell)(nil)
	_ app.Dismounter  = (*Shell)(nil)
)

// OnInit makes the empty app, so that the first Render has something to show.
func (s *Shell) OnInit() {
	s.app = state.New()
	s.clock.began = time.Now()
}

// OnMount starts receiving messages and, at a safe address, opens the store.
func (s *Shell) OnMount(ctx app.Context) {
	s.path = site.Below(ctx.Page().URL().Path)
	action.Handle(ctx, s.receive)
	if s.Ports == nil {
		return
	}
	post := func(m state.Msg) { ctx.Dispatch(func(ctx app.Context) { s.receive(ctx, m) }) }
	if why := unsafeAddress(); why != "" {
		s.receive(ctx, state.AddressUnsafe{Why: why})
		return
	}
	if b, ok := s.Ports.Browser.(*effects.WebBrowser); ok {
		b.Keep(ctx.LocalStorage(), ctx.SessionStorage())
	}
	work, end := context.WithCancel(context.Background())
	s.runner = effects.NewRunner(*s.Ports, post)
	quiet := s.listen(post)
	s.stop = func() { end(); quiet() }
	s.runner.Start(work)
}

// OnNav follows the address: the page, and what a link into a page asks for.
func (s *Shell) OnNav(ctx app.Context) {
	to := ctx.Page().URL()
	to.Path = site.Below(to.Path)
	if s.takeCode(ctx, to) {
		return
	}
	moved := to.Path != s.path
	if moved {
		if s.path == upkeepPath {
			s.reduce(state.UpkeepLeft{})
		}
		s.path = to.Path
		toTop()
		s.hush(ctx)
	}
	if moved && s.app.Pacer.Runs {
		s.take(ctx, state.PaceLeft{}) // nobody is to hunt for the page that ticks
	}
	s.arrive(ctx, to, moved)
	ctx.Page().SetTitle(s.title())
}

// hush ends the reading aloud of a page that was left.
func (s *Shell) hush(ctx app.Context) {
	if s.app.Orders.Aloud {
		s.take(ctx, state.OrderAloudToggled{})
	}
}

// toTop shows a new page from its heading on: the browser keeps the scroll position of the page before.
func toTop() {
	if app.IsClient {
		app.Window().Call("scrollTo", 0, 0)
	}
}

// OnDismount ends what OnMount began.
func (s *Shell) OnDismount() {
	if s.stop != nil {
		s.stop()
	}
}

func (s *Shell) title() string {
	if r, ok := routeOf(s.path); ok {
		return words.S("%s – Torchside", r.Title)
	}
	return "No such page – Torchside"
}

// receive takes one message, unless it is the bounce of a tap.
func (s *Shell) receive(ctx app.Context, m state.Msg) {
	if s.guard.allow(m, time.Now()) {
		s.take(ctx, m)
	}
}

// take reduces one message and runs what follows. A fault of our own becomes a standing notice: the state before the message
// stays, and so does what was typed.
func (s *Shell) take(ctx app.Context, m state.Msg) {
	defer func() {
		if fault := recover(); fault != nil {
			s.app, _ = state.Reduce(s.app, state.Failed{What: fmt.Sprint(fault)})
		}
	}()
	if _, isTime := m.(state.ClockRead); !isTime {
		s.reduce(s.clock.read()) // what happens, happens at a time
	}
	s.reduce(m)
	s.followLink(ctx)
	s.sync(ctx)
}

// reduce takes one message and runs what follows from it.
func (s *Shell) reduce(m state.Msg) {
	next, list := state.Reduce(s.app, m)
	s.app = next
	s.clock.wanted.Store(len(next.Timers.Running) > 0 || next.Watching())
	if s.runner != nil {
		s.runner.Run(list)
	}
}

// followLink does what the address asked for once there are records to do it with.
func (s *Shell) followLink(ctx app.Context) {
	if m := s.link; m != nil && s.app.Ready {
		s.link = nil
		s.take(ctx, m) // an address asks twice only when it means it
	}
}

// Render shows the name alone on the server: controls would be dead until the program runs.
func (s *Shell) Render() app.UI {
	if app.IsServer && s.Ports == nil {
		return app.Div().Class("shell").Body(widgets.Emergency(true), app.Main().Class("page").Body(
			app.H1().Class("question").Text(words.Text("Torchside")), app.P().Text(words.Text("Starting …"))))
	}
	if s.app.Unsafe != "" {
		return app.Div().Class("shell").Body(widgets.Emergency(false), pages.Unsafe(s.app.Unsafe))
	}
	return app.Div().Class("shell").Body(
		widgets.Emergency(false),
		&pages.Notices{Notices: s.app.Notices},
		&pages.TimerBar{Timers: s.app.Timers, Tests: s.app.Leak.Running, Now: s.app.Clock.Wall},
		s.page(),
		&pages.Status{Saved: s.app.Saved, Undo: s.app.Undo, Sync: s.app.Sync.State(), Waiting: s.app.Sync.Waiting},
		widgets.BottomBar(s.places(), s.path, placeOf(s.path)),
	)
}

// page is the page of the address; before the safety notice is accepted, that.
func (s *Shell) page() app.UI {
	switch {
	case !s.app.Ready:
		return pages.Opening()
	case !s.app.Prefs.NoticeSeen:
		return &pages.Safety{Guide: s.path == "/"}
	}
	switch s.path {
	case "/":
		if g := s.app.Prefs.Guide; g != 0 && g != state.GuideCard {
			return &pages.Guide{Prefs: s.app.Prefs, Rig: s.app.Rig, Sample: s.app.Setup.Sample}
		}
		return &pages.Setup{App: s.app}
	case "/leak":
		return &pages.Leak{App: s.app}
	case "/journal":
		return &pages.Journal{App: s.app}
	case "/rig":
		return &pages.Rig{Rig: s.app.Rig, Upkeep: s.app.Upkeep, Region: s.app.Prefs.Region, US: s.app.Prefs.Units.IsUS(), AskRegion: s.app.Prefs.AskRegion}
	case "/flame":
		return &pages.Flame{Flame: s.app.Flame, Prefs: s.app.Prefs}
	case ordersPath:
		return &pages.Orders{Orders: s.app.Orders, Prefs: s.app.Prefs}
	case devicesPath:
		return &pages.Devices{Sync: s.app.Sync, Splits: s.app.Splits}
	case timersPath:
		return &pages.Timers{Timers: s.app.Timers, Prefs: s.app.Prefs, Tests: s.app.Leak.Running, Now: s.app.Clock.Wall}
	case pacerPath:
		return &pages.Pacer{Pacer: s.app.Pacer, Clock: s.app.Clock, Sheet: s.app.BeadFits()}
	case tablesPath:
		return &pages.Tables{Tables: s.app.Tables, Prefs: s.app.Prefs}
	case cutsPath:
		return &pages.CutList{Cuts: s.app.CutList, Prefs: s.app.Prefs, Missing: len(s.app.Rig.Missing) > 0}
	case convertPath:
		return &pages.Convert{Convert: s.app.Convert}
	case airPath:
		return &pages.Air{Air: s.app.Air, Prefs: s.app.Prefs}
	case preheatPath:
		return &pages.Preheat{Preheat: s.app.Preheat, Prefs: s.app.Prefs}
	case upkeepPath:
		return &pages.Upkeep{Upkeep: s.app.Upkeep, Options: pages.OptionsOf(s.app)}
	case cylindersPath:
		return &pages.Cylinders{Log: s.app.Cylinders, Now: s.app.Clock.Wall, Options: pages.OptionsOf(s.app)}
	case wallPath:
		return &pages.Wall{Wall: s.app.Wall, QR: originCode(), Origin: origin()}
	case benchPath:
		return &pages.Bench{Prefs: s.app.Prefs, Bench: s.app.Bench}
	}
	return pages.NoSuchPage(s.path)
}

// places are those of the bottom bar, with how much waits there for the owner's choice.
func (s *Shell) places() []widgets.Place {
	split := s.app.Splits
	waiting := map[string]int{"rig": len(split.Rig), "journal": max(split.Sheets, len(split.Journal)), "bench": len(split.Other)}
	due := map[string]int{"rig": s.app.Upkeep.Due}
	list := make([]widgets.Place, 0, len(Routes))
	for _, r := range Routes {
		if r.Place == "" {
			continue // reached from a page
		}
		list = append(list, widgets.Place{Path: r.Path, Label: r.Title, Act: "nav-" + r.Place, Icon: r.Place, Badge: waiting[r.Place], Due: due[r.Place]})
	}
	return list
}
