package main

import (
	"net"
	"sync"
)

// Limits on connections open at once. A household has a handful of devices and a browser opens
// six or fewer to one host; what is above that is a fault or an attack, and must not take the
// memory or the connections of the others.
const (
	maxConns        = 512
	maxConnsAddress = 64
)

// limited is a listener that closes at once what is over the limits.
type limited struct {
	net.Listener
	mu   sync.Mutex
	all  int
	from map[string]int
}

func limitConns(l net.Listener) *limited { return &limited{Listener: l, from: map[string]int{}} }

// Accept waits for a connection within the limits.
func (l *limited) Accept() (net.Conn, error) {
	for {
		c, err := l.Listener.Accept()
		if err != nil {
			return nil, err
		}
		address := hostOnly(c.RemoteAddr().String())
		if l.enter(address) {
			return &counted{Conn: c, leave: sync.OnceFunc(func() { l.leave(address) })}, nil
		}
		_ = c.Close() // there is nobody to tell
	}
}

func (l *limited) enter(address string) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.all >= maxConns || l.from[address] >= maxConnsAddress {
		return false
	}
	l.all++
	l.from[address]++
	return true
}

func (l *limited) leave(address string) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.all--
	if l.from[address]--; l.from[address] == 0 {
		delete(l.from, address)
	}
}

// counted is a connection that gives its place back when it is closed.
type counted struct {
	net.Conn
	leave func()
}

// Close closes the connection.
func (c *counted) Close() error {
	c.leave()
	return c.Conn.Close()
}
