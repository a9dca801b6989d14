package server

import (
	"errors"
	"io"
	"net/http"
	"time"
)

// A request may be slow, as a phone at the edge of the network is, but it must move: a connection
// on which nothing came or went for stall is given up, and so is one that takes longer than a
// whole piece could take at 2 kB a second.
const (
	stall   = 15 * time.Second
	longest = 2 * time.Minute
)

// paced moves the deadline of a connection along while there is progress.
type paced struct {
	control *http.ResponseController
	set     func(time.Time) error
	end     time.Time // never beyond
}

func (p *paced) moved() {
	at := time.Now().Add(stall)
	if at.After(p.end) {
		at = p.end
	}
	if err := p.set(at); err != nil && !errors.Is(err, http.ErrNotSupported) {
		return // the connection is gone; reading or writing says so
	}
}

// pacedBody is a request's body under paced.
type pacedBody struct {
	io.ReadCloser
	paced
}

// Read reads on, and gives the next read its time.
func (b *pacedBody) Read(p []byte) (int, error) {
	b.moved()
	return b.ReadCloser.Read(p)
}

// pace puts a request under the limits of this file.
func pace(w http.ResponseWriter, r *http.Request) {
	control := http.NewResponseController(w)
	body := &pacedBody{r.Body, paced{control, control.SetReadDeadline, time.Now().Add(longest)}}
	r.Body = body
	_ = control.SetWriteDeadline(time.Now().Add(longest + stall)) // a recorder in a test has none
}
