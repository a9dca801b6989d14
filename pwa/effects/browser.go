package effects

import (
	"errors"
	"fmt"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/state"
)

// WebBrowser is the Browser of the page. Drafts live in the page's local storage: it is written at once, before the next
// letter can be typed.
type WebBrowser struct {
	kept    app.BrowserStorage
	box     draftBox
	channel app.Value
}

var _ Browser = (*WebBrowser)(nil)

// channelName is that of the channel on which windows of this app tell each other that something was written.
const channelName = "torchside"

// Drafts reads what was kept.
func (b *WebBrowser) Drafts() map[string]state.Draft { return b.box.drafts() }

// KeepDraft writes or forgets one draft.
func (b *WebBrowser) KeepDraft(key string, d state.Draft) error { return b.box.keep(key, d) }

// heldName is the name under which the local storage keeps what the store holds.
const heldName = "torchside/held"

// Keep sets where this browser keeps things: for all windows of the app, and for this one alone.
func (b *WebBrowser) Keep(all, window app.BrowserStorage) {
	b.kept, b.box = all, draftBox{all: all, mine: window}
}

// Held reads what the store held; what cannot be read counts as nothing.
func (b *WebBrowser) Held() state.Held {
	var h state.Held
	if err := b.kept.Get(heldName, &h); err != nil {
		return state.Held{}
	}
	return h
}

// KeepHeld writes it. A refusal is of no consequence as long as the store works, and cannot be helped.
func (b *WebBrowser) KeepHeld(h state.Held) { _ = b.kept.Set(heldName, h) }

// themeName is the name under which web/static/theme.js finds the theme.
const themeName = "torchside/theme"

// ShowTheme sets the theme the style sheet goes by, and keeps it for what is shown without the program. A browser that keeps nothing
// shows those pages as the phone is set.
func (b *WebBrowser) ShowTheme(theme string) {
	_ = b.kept.Set(themeName, theme)
	app.Window().Get("document").Get("documentElement").Get("dataset").Set("theme", theme)
}

// SetLanguage has the page's script keep it. A browser that keeps nothing says so: the choice cannot be made there.
func (b *WebBrowser) SetLanguage(code string) {
	if !app.Window().Call("torchsideLanguage", code).Bool() {
		app.Window().Call("alert", "This browser keeps no choice of language.")
	}
}

// ShowTop scrolls after the page has been drawn.
func (b *WebBrowser) ShowTop(act string) {
	app.Window().Call("torchsideShow", act)
}

// Download hands a file over by a link to a blob, which is released again by the page's script.
func (b *WebBrowser) Download(f File) (err error) {
	defer func() {
		if fault := recover(); fault != nil { // an exception of the browser arrives as a panic
			err = fmt.Errorf(words.T("handing over the file: %v"), fault)
		}
	}()
	if !app.Window().Get("torchsideDownload").Truthy() {
		return errors.New("this page has no way to hand over a file")
	}
	content := f.Parts
	if content == nil {
		content = app.Window().Get("Uint8Array").New(len(f.Data))
		app.CopyBytesToJS(content, f.Data)
	}
	app.Window().Call("torchsideDownload", f.Name, content)
	return nil
}

// Restart has the page's script take the waiting version into use.
func (b *WebBrowser) Restart() { app.Window().Call("torchsideActivate") }

// Announce tells the other windows.
func (b *WebBrowser) Announce() {
	if c := b.open(); c.Truthy() {
		c.Call("postMessage", "written")
	}
}

// Listen has f called when another window has written something. The returned function ends it.
func (b *WebBrowser) Listen(f func()) func() {
	c := b.open()
	if !c.Truthy() {
		return func() {}
	}
	heard := app.FuncOf(func(app.Value, []app.Value) any {
		f()
		return nil
	})
	c.Set("onmessage", heard)
	return func() {
		c.Set("onmessage", nil)
		heard.Release()
	}
}

// open returns the channel; an undefined value where the browser has none.
func (b *WebBrowser) open() app.Value {
	if b.channel == nil {
		b.channel = app.Undefined()
		if channel := app.Window().Get("BroadcastChannel"); channel.Truthy() {
			b.channel = channel.New(channelName)
		}
	}
	return b.channel
}
