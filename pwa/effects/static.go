package effects

import (
	"context"
	"errors"
	"fmt"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/site"
	"torchside/pwa/state"
)

// readStatic answers with the file, or with why it is not there; the store is not kept waiting.
func (r *Runner) readStatic(ctx context.Context, e state.ReadStatic) {
	read := r.ports.Static
	if read == nil {
		r.post(state.StaticRead{Address: e.Address, Err: errors.New("this app has no files beside it")})
		return
	}
	data, err := read(ctx, e.Address)
	r.post(state.StaticRead{Address: e.Address, Data: data, Err: err})
}

// FetchStatic reads a file of the app through the page's fetch, which the worker answers from its copy.
func FetchStatic(ctx context.Context, address string) ([]byte, error) {
	response, err := await(ctx, app.Window().Call("fetch", site.At(address)))
	if err != nil {
		return nil, fmt.Errorf("reading %s: %w", address, err)
	}
	if !response.Get("ok").Bool() {
		return nil, fmt.Errorf(words.T("reading %s: the answer was %d"), address, response.Get("status").Int())
	}
	buffer, err := await(ctx, response.Call("arrayBuffer"))
	if err != nil {
		return nil, fmt.Errorf("reading %s: %w", address, err)
	}
	bytes := app.Window().Get("Uint8Array").New(buffer)
	data := make([]byte, bytes.Get("length").Int())
	app.CopyBytesToGo(data, bytes)
	return data, nil
}
