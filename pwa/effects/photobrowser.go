package effects

import (
	"context"
	"errors"
	"fmt"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
)

var (
	_ Photographer = (*WebBrowser)(nil)
	_ Shower       = (*WebBrowser)(nil)
)

// Next has the page's script prepare one file.
func (b *WebBrowser) Next(ctx context.Context, source int, plain bool) (p Prepared, ok bool, err error) {
	defer func() {
		if fault := recover(); fault != nil { // an exception of the browser arrives as a panic
			err = fmt.Errorf(words.T("preparing a photo: %v"), fault)
		}
	}()
	photos := app.Window().Get("torchsidePhotos")
	if !photos.Truthy() {
		return p, false, errors.New(errNoPhotos)
	}
	got, err := await(ctx, photos.Call("next", source, plain))
	if err != nil || !got.Truthy() {
		return p, false, err
	}
	p = Prepared{Name: textIn(got, "name"), Why: textIn(got, "why"), Type: textIn(got, "type"), W: numberIn(got, "w"), H: numberIn(got, "h"),
		Offer: numberIn(got, "offer"), Full: bytesIn(got, "full"), Thumb: bytesIn(got, "thumb")}
	return p, true, nil
}

// await waits for a promise.
func await(ctx context.Context, promise app.Value) (app.Value, error) {
	type outcome struct {
		value app.Value
		err   error
	}
	settled := make(chan outcome, 1)
	kept := app.FuncOf(func(_ app.Value, args []app.Value) any {
		settled <- outcome{value: args[0]}
		return nil
	})
	broken := app.FuncOf(func(_ app.Value, args []app.Value) any {
		settled <- outcome{err: errors.New(args[0].Call("toString").String())}
		return nil
	})
	promise.Call("then", kept, broken)
	select {
	case o := <-settled:
		kept.Release()
		broken.Release()
		return o.value, o.err
	case <-ctx.Done(): // the functions may still be called: they are not released
		return nil, ctx.Err()
	}
}

func textIn(v app.Value, key string) string {
	if s := v.Get(key); s.Type() == app.TypeString {
		return s.String()
	}
	return ""
}

func numberIn(v app.Value, key string) int {
	if n := v.Get(key); n.Type() == app.TypeNumber {
		return n.Int()
	}
	return 0
}

func bytesIn(v app.Value, key string) []byte {
	from := v.Get(key)
	if !from.Truthy() {
		return nil
	}
	data := make([]byte, from.Get("length").Int())
	app.CopyBytesToGo(data, from)
	return data
}

// ShowBlobs gives the page's script a reader of photos.
func (b *WebBrowser) ShowBlobs(read func(name string, got func([]byte))) (end func()) {
	photos := app.Window().Get("torchsidePhotos")
	if !photos.Truthy() {
		return func() {}
	}
	reader := app.FuncOf(func(_ app.Value, args []app.Value) any {
		name, done := args[0].String(), args[1]
		read(name, func(data []byte) {
			if len(data) == 0 {
				done.Invoke(nil)
				return
			}
			bytes := app.Window().Get("Uint8Array").New(len(data))
			app.CopyBytesToJS(bytes, data)
			done.Invoke(bytes)
		})
		return nil
	})
	photos.Call("serve", reader)
	return func() {
		photos.Call("serve", nil)
		reader.Release()
	}
}
