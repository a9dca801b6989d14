package remote

import (
	"context"
	"errors"
	"time"
)

// Content types of the protocol.
const (
	typeJSON  = "application/json"
	typeBytes = "application/octet-stream"
)

// Limits on a round trip.
const (
	stall    = 15 * time.Second // without a byte: given up
	slowest  = 2 << 10          // bytes a second an upload is waited for
	maxReply = 4 << 20          // bytes of an answer, unpacked: a page of ops and more
)

var (
	// errForeign: the answer is not one of our server, as when a proxy or a network's log-in page
	// stands between.
	errForeign = errors.New("something between here and the server answered in its place")
	// errStalled: nothing came for too long.
	errStalled = errors.New("the server did not answer in time")
	errTooLong = errors.New("the answer of the server is too long")
)

// message is what is sent. Compression of the answer is asked for by the medium itself.
type message struct {
	method, path, url string
	token             string
	contentType       string // "" without a body
	zipped            bool   // body is gzip
	body              []byte
}

// reply is what came back, unpacked.
type reply struct {
	status int
	header func(name string) string
	body   []byte
}

// sender is the medium: fetch in a browser, net/http elsewhere.
type sender interface {
	do(ctx context.Context, m message) (reply, error)
}

// patience is how long the answer to a message may take to begin.
func (m message) patience() time.Duration {
	return stall + time.Duration(len(m.body))*time.Second/slowest
}

// watch ends a context when progress is not called for too long.
type watch struct {
	timer *time.Timer
	end   context.CancelCauseFunc
}

func newWatch(ctx context.Context, first time.Duration) (context.Context, *watch) {
	ctx, end := context.WithCancelCause(ctx)
	return ctx, &watch{time.AfterFunc(first, func() { end(errStalled) }), end}
}

func (w *watch) progress() { w.timer.Reset(stall) }

func (w *watch) stop() {
	w.timer.Stop()
	w.end(nil)
}

// failure is the reason of the context's end, if it has one, rather than what it led to.
func failure(ctx context.Context, err error) error {
	if err != nil && ctx.Err() != nil {
		return context.Cause(ctx)
	}
	return err
}
