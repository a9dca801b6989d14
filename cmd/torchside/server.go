package main

import (
	"context"
	"crypto/tls"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"net/netip"
)

func (p program) newServer(h http.Handler, config *tls.Config) *http.Server {
	return &http.Server{
		Handler:           h,
		TLSConfig:         config,
		ReadHeaderTimeout: headerTimeout,
		ReadTimeout:       readTimeout,
		WriteTimeout:      writeTimeout,
		IdleTimeout:       idleTimeout,
		MaxHeaderBytes:    maxHeader,
		ErrorLog:          slog.NewLogLogger(p.logger().Handler(), slog.LevelWarn),
	}
}

// serveUntil runs one server until it fails or ctx ends; then requests under way may finish.
func (p program) serveUntil(ctx context.Context, srv *http.Server, serve func(*http.Server) error) error {
	failed := make(chan error, 1)
	go func() { failed <- serve(srv) }()
	select {
	case err := <-failed:
		if ctx.Err() == nil {
			return err
		} // else the other side of the port has closed it already
	case <-ctx.Done():
	}
	wait, cancel := context.WithTimeout(context.WithoutCancel(ctx), shutdownWait)
	defer cancel()
	if err := srv.Shutdown(wait); errors.Is(err, context.DeadlineExceeded) {
		return srv.Close()
	} else if err != nil {
		return err
	}
	return nil
}

// serveBoth answers TLS and plain HTTP on one port. The plain side only sends browsers on.
func (p program) serveBoth(ctx context.Context, l net.Listener, secure, plain *http.Server) error {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	tlsSide, plainSide := splitTLS(l)
	done := make(chan error, 2)
	go func() {
		done <- p.serveUntil(ctx, secure, func(srv *http.Server) error { return srv.ServeTLS(tlsSide, "", "") })
	}()
	go func() {
		done <- p.serveUntil(ctx, plain, func(srv *http.Server) error { return srv.Serve(plainSide) })
	}()
	err := <-done
	cancel()
	return errors.Join(err, <-done)
}

// announce prints where the app is.
func (p program) announce(at net.Addr, o options) {
	scheme := "http"
	if o.secure() {
		scheme = "https"
	}
	fmt.Fprintf(p.stdout, "Torchside %s is at %s\n", p.buildVersion(), url(scheme, at, hostOnly(o.addr)))
	fmt.Fprintf(p.stdout, "Data: %s\n", o.data)
	if everywhere(at) {
		for _, a := range lanAddrs() {
			fmt.Fprintf(p.stdout, "From other devices: %s\n", url(scheme, at, a.String()))
		}
	}
	if o.tlsLocal {
		fmt.Fprintf(p.stdout, "Once on each phone: %s/ca\n", url("http", at, phoneHost(hostOnly(o.addr))))
	}
	if !o.secure() && !loopback(at) {
		fmt.Fprintln(p.stdout, "Note: over plain http only this computer (localhost) can use the app offline or install it; "+
			"browsers want a secure context. Use --tls-local, or --tls-cert and --tls-key.")
	}
}

// url joins scheme, host and the port that is really open.
func url(scheme string, at net.Addr, host string) string {
	_, port, _ := net.SplitHostPort(at.String()) // a listener's address always has a port
	if addr, err := netip.ParseAddr(host); host == "" || err == nil && addr.IsUnspecified() {
		host = "localhost"
	}
	if scheme == "http" && port == "80" || scheme == "https" && port == "443" {
		if addr, err := netip.ParseAddr(host); err == nil && addr.Is6() {
			host = "[" + host + "]"
		}
		return scheme + "://" + host
	}
	return scheme + "://" + net.JoinHostPort(host, port)
}

// loopback reports whether only this machine can reach the address.
func loopback(at net.Addr) bool {
	tcp, ok := at.(*net.TCPAddr)
	return ok && tcp.IP.IsLoopback()
}

// everywhere reports whether the address stands for all of the machine's.
func everywhere(at net.Addr) bool {
	tcp, ok := at.(*net.TCPAddr)
	return ok && tcp.IP.IsUnspecified()
}

// lanAddrs are the addresses at which a phone in the same network finds this machine.
func lanAddrs() []netip.Addr {
	var lan []netip.Addr
	for _, a := range ownAddrs() {
		if a.Is4() && a.IsPrivate() {
			lan = append(lan, a)
		}
	}
	return lan
}

// phoneHost is the host part a phone can use: the given one, or else an address in the network.
func phoneHost(host string) string {
	if addr, err := netip.ParseAddr(host); host != "" && (err != nil || !addr.IsUnspecified()) {
		return host
	}
	if lan := lanAddrs(); len(lan) > 0 {
		return lan[0].String()
	}
	return "localhost"
}
