package effects

import (
	"context"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/state"
)

// Sharer is a Browser that can hand a text to another app. failed is called at most once, on any goroutine; not when the person has
// changed their mind.
type Sharer interface {
	ShareText(title, text string, failed func(why string))
}

var _ Sharer = (*WebBrowser)(nil)

// handing runs what hands something from or to the person.
func (r *Runner) handing(e state.Effect) {
	switch e := e.(type) {
	case state.HandFile:
		if err := r.ports.Browser.Download(File{Name: e.Name, Data: e.Data}); err != nil {
			r.post(state.FileRefused{Name: e.Name, Err: err})
			return
		}
		r.post(state.FileHanded{Name: e.Name})
	case state.ShareText:
		failed := func(why string) { r.post(state.SheetShareFailed{Why: why}) }
		if s, ok := r.ports.Browser.(Sharer); ok {
			s.ShareText(e.Title, e.Text, failed)
		} else {
			failed(errNoSharing)
		}
	case state.PutPhotos:
		r.queue(func(ctx context.Context) { go r.guarded(ctx, func(ctx context.Context) { r.photos(ctx, e) }) })
	default:
		r.syncing(e)
	}
}

const errNoSharing = "this browser has no way to hand a text on"

// ShareText opens the share sheet of the device, or puts the text on the clipboard.
func (b *WebBrowser) ShareText(title, text string, failed func(why string)) {
	defer func() {
		if fault := recover(); fault != nil { // an exception of the browser arrives as a panic
			failed(errNoSharing)
		}
	}()
	navigator := app.Window().Get("navigator")
	var promise app.Value
	switch {
	case navigator.Get("share").Truthy():
		promise = navigator.Call("share", map[string]any{"title": title, "text": text})
	case navigator.Get("clipboard").Truthy():
		promise = navigator.Get("clipboard").Call("writeText", text)
	default:
		failed(errNoSharing)
		return
	}
	var refused, settled app.Func
	refused = app.FuncOf(func(_ app.Value, args []app.Value) any {
		if len(args) > 0 && args[0].Get("name").String() != "AbortError" {
			failed(words.S("the browser said %s", args[0].Get("name").String()))
		}
		return nil
	})
	settled = app.FuncOf(func(app.Value, []app.Value) any {
		refused.Release()
		settled.Release()
		return nil
	})
	promise.Call("catch", refused).Call("finally", settled)
}
