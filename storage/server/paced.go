package server

import (
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

// pacedBody is a request's body; it moves the deadline of the connection along while there is
// progress.
type pacedBody struct {
	io.ReadCloser
	control *http.ResponseController
	stall   time.Duration
	end     time.Time // never beyond
}

// Read reads on, and gives the next read its time.
func (b *pacedBody) Read(p []byte) (int, error) {
	at := time.Now().Add(b.stall)
	if at.After(b.end) {
		at = b.end
	}
	_ = b.control.SetReadDeadline(at) // a recorder in a test has none; a lost connection shows by reading
	return b.ReadCloser.Read(p)
}

// hurry puts a request under the limits of this file.
func (s *Server) hurry(w http.ResponseWriter, r *http.Request) {
	control := http.NewResponseController(w)
	r.Body = &pacedBody{r.Body, control, s.stall, time.Now().Add(longest)}
	_ = control.SetWriteDeadline(time.Now().Add(longest + stall)) // a recorder in a test has none
}
