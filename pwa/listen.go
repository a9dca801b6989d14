package pwa

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/effects"
	"torchside/pwa/state"
)

// unsafeAddress says why nothing may be stored at this address, "" when it may. What is stored at an address without HTTPS is
// stranded once the address changes, and nothing there would open without the network.
func unsafeAddress() string {
	w := app.Window()
	switch {
	case app.IsServer:
		return ""
	case !w.Get("isSecureContext").Bool():
		return "This address has no trusted HTTPS."
	case !w.Get("navigator").Get("serviceWorker").Truthy():
		return "This browser offers no service worker here; a private window may be the cause."
	}
	return ""
}

// listen has post called for what happens outside: another window writes, the page comes back, a new version waits, the worker
// is refused. The returned function ends it.
func (s *Shell) listen(post func(state.Msg)) func() {
	var ends []func()
	on := func(target app.Value, event string, f func()) {
		heard := app.FuncOf(func(app.Value, []app.Value) any { f(); return nil })
		target.Call("addEventListener", event, heard)
		ends = append(ends, func() { target.Call("removeEventListener", event, heard); heard.Release() })
	}
	w, document := app.Window(), app.Window().Get("document")
	update := func() { post(state.UpdateReady{}) }
	on(w, "torchside-update", update)
	on(w, "torchside-worker-refused", func() { post(state.WorkerRefused{Why: w.Get("torchsideWorkerRefused").String()}) })
	on(document, "visibilitychange", func() {
		if document.Get("visibilityState").String() == "visible" {
			post(state.PageShown{})
			post(state.OtherWrote{})
			post(state.SyncDue{})
		} else {
			post(state.PageHidden{})
		}
	})
	on(w, "online", func() { post(state.SyncDue{}) })
	ends = append(ends, s.listenTime(post, on))
	if b, ok := s.Ports.Browser.(*effects.WebBrowser); ok {
		ends = append(ends, b.Listen(func() { post(state.OtherWrote{}) }))
	}
	if w.Get("torchsideUpdateWaiting").Truthy() || otherVersion(s.Ports.Version) {
		update()
	}
	if why := w.Get("torchsideWorkerRefused"); why.Truthy() {
		post(state.WorkerRefused{Why: why.String()})
	}
	return func() {
		for _, end := range ends {
			end()
		}
	}
}

// otherVersion reports whether the page was built for another version than this program.
func otherVersion(compiled string) bool {
	page := app.Getenv("GOAPP_VERSION")
	return compiled != "" && page != "" && page != compiled
}
