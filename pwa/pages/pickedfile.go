package pages

import (
	"io"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/state"
)

// pickedFile reads a file of the browser in pieces, so that one of gigabytes needs no room in memory. Its methods wait for the
// browser: they are for goroutines, never for a handler. One goroutine at a time may use it.
type pickedFile struct {
	file app.Value
	size int64

	from  int64  // where ahead begins
	ahead []byte // what was read last
}

var _ state.Source = (*pickedFile)(nil)

// aheadBytes is how much is read at a time; each reading costs a turn through the browser.
const aheadBytes = 256 << 10

// Size is the size of the file in bytes.
func (f *pickedFile) Size() int64 { return f.size }

// ReadAt reads from any place. Its error is io.EOF at the end, or what the browser says of a file that is gone.
func (f *pickedFile) ReadAt(p []byte, off int64) (int, error) {
	n := 0
	for n < len(p) && off < f.size {
		if off < f.from || off >= f.from+int64(len(f.ahead)) {
			if err := f.fetch(off, max(aheadBytes, len(p)-n)); err != nil {
				return n, err
			}
		}
		got := copy(p[n:], f.ahead[off-f.from:])
		n, off = n+got, off+int64(got)
	}
	if n < len(p) {
		return n, io.EOF
	}
	return n, nil
}

// fetch reads a piece.
func (f *pickedFile) fetch(off int64, n int) error {
	end := min(off+int64(n), f.size)
	data, err := content(f.file.Call("slice", float64(off), float64(end)))
	if err == nil && int64(len(data)) != end-off {
		err = io.ErrUnexpectedEOF
	}
	if err == nil {
		f.from, f.ahead = off, data
	}
	return err
}

// content waits for the bytes of a Blob.
func content(blob app.Value) ([]byte, error) {
	type outcome struct {
		data []byte
		err  error
	}
	settled := make(chan outcome, 1)
	var read, refused app.Func
	done := func(o outcome) any {
		read.Release()
		refused.Release()
		settled <- o
		return nil
	}
	read = app.FuncOf(func(_ app.Value, args []app.Value) any {
		bytes := app.Window().Get("Uint8Array").New(args[0])
		data := make([]byte, bytes.Get("length").Int())
		app.CopyBytesToGo(data, bytes)
		return done(outcome{data: data})
	})
	refused = app.FuncOf(func(_ app.Value, args []app.Value) any { return done(outcome{err: notRead(args)}) })
	blob.Call("arrayBuffer").Call("then", read, refused)
	o := <-settled
	return o.data, o.err
}
