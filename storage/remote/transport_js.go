//go:build js

package remote

import (
	"context"
	"fmt"
	"syscall/js"
)

// newSender gives the page's own fetch: net/http would add half a megabyte to the app.
func newSender() sender { return fetcher{} }

type fetcher struct{}

func (fetcher) do(ctx context.Context, m message) (a reply, err error) {
	defer func() {
		switch thrown := recover().(type) {
		case nil:
		case js.Error:
			err = thrown
		default:
			panic(thrown)
		}
	}()
	ctx, watched := newWatch(ctx, m.patience())
	defer watched.stop()
	abort := js.Global().Get("AbortController").New()
	defer context.AfterFunc(ctx, func() { abort.Call("abort") })()
	resp, err := await(ctx, js.Global().Call("fetch", m.url, m.options(abort.Get("signal"))))
	if err != nil {
		return reply{}, failure(ctx, err)
	}
	watched.progress()
	body, err := readAll(ctx, resp, watched)
	headers := resp.Get("headers")
	header := func(name string) string {
		if v := headers.Call("get", name); v.Type() == js.TypeString {
			return v.String()
		}
		return ""
	}
	return reply{resp.Get("status").Int(), header, body}, failure(ctx, err)
}

// options are those of fetch. No cookie goes along, no copy is kept, and a redirect is an error: a
// token goes nowhere else.
func (m message) options(signal js.Value) map[string]any {
	headers := map[string]any{}
	if m.token != "" {
		headers["Authorization"] = "Bearer " + m.token
	}
	if m.contentType != "" {
		headers["Content-Type"] = m.contentType
	}
	if m.zipped {
		headers["Content-Encoding"] = "gzip"
	}
	o := map[string]any{
		"method": m.method, "headers": headers, "signal": signal,
		"credentials": "omit", "cache": "no-store", "redirect": "error",
	}
	if m.contentType != "" {
		body := js.Global().Get("Uint8Array").New(len(m.body))
		js.CopyBytesToJS(body, m.body)
		o["body"] = body
	}
	return o
}

// readAll reads the body piece by piece, so that a server that stops in the middle is noticed.
func readAll(ctx context.Context, resp js.Value, watched *watch) ([]byte, error) {
	if resp.Get("body").IsNull() {
		return nil, nil
	}
	reader := resp.Get("body").Call("getReader")
	var body []byte
	for {
		part, err := await(ctx, reader.Call("read"))
		if err != nil || part.Get("done").Bool() {
			return body, err
		}
		watched.progress()
		data := part.Get("value")
		n := data.Get("length").Int()
		if len(body)+n > maxReply {
			return nil, errTooLong
		}
		body = append(body, make([]byte, n)...)
		js.CopyBytesToGo(body[len(body)-n:], data)
	}
}

// await waits for a promise or the end of ctx. The callbacks stay until the promise is settled, as
// it may still call them.
func await(ctx context.Context, promise js.Value) (js.Value, error) {
	type outcome struct {
		value js.Value
		err   error
	}
	settled := make(chan outcome, 1)
	var resolved, rejected js.Func
	settle := func(o outcome) any {
		resolved.Release()
		rejected.Release()
		settled <- o
		return nil
	}
	resolved = js.FuncOf(func(_ js.Value, args []js.Value) any { return settle(outcome{value: args[0]}) })
	rejected = js.FuncOf(func(_ js.Value, args []js.Value) any {
		return settle(outcome{err: fmt.Errorf("the server was not reached: %s", args[0].Get("message").String())})
	})
	promise.Call("then", resolved, rejected)
	select {
	case o := <-settled:
		return o.value, o.err
	case <-ctx.Done():
		return js.Value{}, ctx.Err()
	}
}
