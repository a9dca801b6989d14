package main

import (
	"fmt"
	"io"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"
)

// Whoever opens connections and sends nothing, or no end of headers, is sent away.
func TestServe_headers_that_do_not_end_are_cut_off(t *testing.T) {
	srv := program{stderr: io.Discard}.newServer(http.NotFoundHandler(), nil)
	for name, limit := range map[string]time.Duration{
		"headers": srv.ReadHeaderTimeout, "reading": srv.ReadTimeout, "writing": srv.WriteTimeout, "idle": srv.IdleTimeout,
	} {
		if limit <= 0 || limit > 5*time.Minute {
			t.Errorf("%s may take %v", name, limit)
		}
	}
	srv.ReadHeaderTimeout = 50 * time.Millisecond // so that the test need not wait
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	go func() { _ = srv.Serve(l) }() // it ends with the Close below
	defer srv.Close()
	for _, sent := range []string{"", "GET / HT", "GET / HTTP/1.1\r\nHost: localhost\r\nX: "} {
		if answer := answered(t, l.Addr().String(), sent); strings.Contains(answer, "200 OK") {
			t.Errorf("%q was answered %q", sent, answer)
		}
	}
	s := startPlain(t)
	long := "GET / HTTP/1.1\r\nHost: localhost\r\nX: " + strings.Repeat("x", 64<<10) + "\r\n\r\n"
	if answer := answered(t, strings.TrimPrefix(s.url, "http://"), long); !strings.HasPrefix(answer, "HTTP/1.1 431") {
		t.Errorf("64 kB of headers: %.60q", answer)
	}
}

// answered sends text on a new connection and reads until the server closes it.
func answered(t *testing.T, address, text string) string {
	t.Helper()
	conn, err := net.Dial("tcp", address)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	_, _ = fmt.Fprint(conn, text)                         // the server may close before all is sent
	_ = conn.SetReadDeadline(time.Now().Add(time.Minute)) // so that a server that never closes fails the test
	answer, err := io.ReadAll(conn)
	if e, slow := err.(net.Error); slow && e.Timeout() {
		t.Errorf("%.40q: the connection stays open", text)
	}
	return string(answer)
}
