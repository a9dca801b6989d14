//go:build js

package main

import (
	"syscall/js"

	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

// parts is a writer whose content leaves the program piece by piece: the browser may put its Blobs on the disk, so that an
// export of gigabytes needs no room in memory.
type parts struct {
	buffer []byte
	blobs  []any // of the browser, in order
}

// partBytes is how much is gathered for one Blob.
const partBytes = 1 << 20

// Write never fails by itself; a browser that is out of room throws, which ends the export.
func (p *parts) Write(data []byte) (int, error) {
	p.buffer = append(p.buffer, data...)
	if len(p.buffer) >= partBytes {
		p.flush()
	}
	return len(data), nil
}

func (p *parts) flush() {
	if len(p.buffer) == 0 {
		return
	}
	bytes := js.Global().Get("Uint8Array").New(len(p.buffer))
	js.CopyBytesToJS(bytes, p.buffer)
	p.blobs = append(p.blobs, js.Global().Get("Blob").New([]any{bytes}))
	p.buffer = p.buffer[:0]
}

// blob returns everything written, as one Blob.
func (p *parts) blob(kind string) app.Value {
	p.flush()
	return app.ValueOf(js.Global().Get("Blob").New(p.blobs, map[string]any{"type": kind}))
}
