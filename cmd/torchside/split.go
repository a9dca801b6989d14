package main

import (
	"bufio"
	"net"
	"sync"
	"time"
)

// recordHandshake is the first byte of every TLS connection (RFC 8446 section 5.1).
const recordHandshake = 0x16

// sniffTimeout is how long a client may take to send its first byte.
const sniffTimeout = 10 * time.Second

// splitTLS divides the connections of one port by their first byte, so that a phone which does
// not trust the certificate yet can fetch it over plain HTTP at the same address.
func splitTLS(l net.Listener) (tlsSide, plainSide net.Listener) {
	s := &splitter{l: l, done: make(chan struct{})}
	secure := &side{splitter: s, conns: make(chan net.Conn)}
	plain := &side{splitter: s, conns: make(chan net.Conn)}
	go s.run(secure.conns, plain.conns)
	return secure, plain
}

type splitter struct {
	l    net.Listener
	once sync.Once
	done chan struct{} // closed when the port is
}

func (s *splitter) run(secure, plain chan<- net.Conn) {
	for {
		c, err := s.l.Accept()
		if err != nil {
			_ = s.close()
			return
		}
		go s.sort(c, secure, plain)
	}
}

// sort hands one connection to its side; a client that sends nothing holds up nobody else.
func (s *splitter) sort(c net.Conn, secure, plain chan<- net.Conn) {
	r := bufio.NewReader(c)
	_ = c.SetReadDeadline(time.Now().Add(sniffTimeout))
	first, err := r.Peek(1)
	if err != nil {
		_ = c.Close()
		return
	}
	_ = c.SetReadDeadline(time.Time{})
	to := plain
	if first[0] == recordHandshake {
		to = secure
	}
	select {
	case to <- peeked{c, r}:
	case <-s.done:
		_ = c.Close()
	}
}

func (s *splitter) close() (err error) {
	s.once.Do(func() {
		close(s.done)
		err = s.l.Close()
	})
	return err
}

// side is one kind of connection as a net.Listener.
type side struct {
	*splitter
	conns chan net.Conn
}

// Accept waits for the next connection of this side.
func (s *side) Accept() (net.Conn, error) {
	select {
	case c := <-s.conns:
		return c, nil
	case <-s.done:
		return nil, net.ErrClosed
	}
}

// Close closes the port for both sides.
func (s *side) Close() error { return s.close() }

// Addr is the port's address.
func (s *side) Addr() net.Addr { return s.l.Addr() }

// peeked is a connection whose first bytes wait in r.
type peeked struct {
	net.Conn
	r *bufio.Reader
}

// Read reads what was peeked first.
func (p peeked) Read(b []byte) (int, error) { return p.r.Read(b) }
