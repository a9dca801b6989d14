package effects

import (
	"context"
	"errors"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/state"
	"torchside/storage"
)

// Sharer is a Browser that can hand a text to another app. failed is called at most once, on any goroutine; not when the person has
// changed their mind.
type Sharer interface {
	ShareText(title, text string, failed func(why string))
}

// Photographer is a Browser that can prepare photos: the orientation applied, what the camera wrote beside the picture left out, made
// smaller, with a thumbnail. It may take its time and is called by the queue.
type Photographer interface {
	// Prepare returns the files the page holds under a number, in the order chosen, and lets go of them.
	Prepare(ctx context.Context, source int) ([]Prepared, error)
}

// Prepared is one file made ready to be stored.
type Prepared struct {
	Name        string
	Full, Thumb []byte // Thumb is empty for a file that cannot be shown
	W, H        int
	Type        string // media type of Full
	Why         string // why it is not taken; Full is then empty
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
		r.queue(func(ctx context.Context) { r.photos(ctx, e) })
	}
}

const (
	errNoSharing = "this browser has no way to hand a text on"
	errNoPhotos  = "this browser cannot prepare photos"
)

// photos stores the files of one choice, each by itself: one that finds no room does not keep the others back. PhotosPut is posted
// whatever happens, because the sheet waits for it.
func (r *Runner) photos(ctx context.Context, e state.PutPhotos) {
	defer r.post(state.PhotosPut{Key: e.Key})
	refuse := func(name, why string) { r.post(state.PhotoRefused{Key: e.Key, Name: name, Why: why}) }
	camera, ok := r.ports.Browser.(Photographer)
	if !ok {
		refuse("", errNoPhotos)
		return
	}
	list, err := camera.Prepare(ctx, e.Source)
	if err != nil {
		refuse("", err.Error())
	}
	for _, p := range list {
		if p.Why != "" {
			refuse(p.Name, p.Why)
			continue
		}
		put := state.PhotoStored{Key: e.Key, Role: e.Role, Name: p.Name, Type: p.Type, W: p.W, H: p.H, Bytes: len(p.Full)}
		put.Hash, put.Err = r.putBlob(ctx, p.Full)
		if put.Err == nil && len(p.Thumb) > 0 {
			put.ThumbHash, put.Err = r.putBlob(ctx, p.Thumb)
		}
		r.post(put)
	}
}

// putBlob stores an attachment; a store closed under us is opened once more.
func (r *Runner) putBlob(ctx context.Context, data []byte) (storage.Hash, error) {
	put := func(ctx context.Context, s storage.Store) (storage.Hash, error) { return s.PutBlob(ctx, data) }
	h, err := try(ctx, r, put)
	if errors.Is(err, storage.ErrClosed) {
		h, err = try(ctx, r, put)
	}
	return h, err
}

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
			failed("the browser said " + args[0].Get("name").String())
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
