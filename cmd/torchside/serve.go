package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"net"
	"net/http"
	"sync"
	"time"

	"torchside/pwa"
	"torchside/web"
)

// Limits against connections that never finish. Nothing is uploaded to this server, so a whole request is short.
const (
	readTimeout   = 30 * time.Second
	headerTimeout = 10 * time.Second
	idleTimeout   = 2 * time.Minute
	shutdownWait  = 5 * time.Second
)

// registerRoutes fills go-app's global route table, which must happen once in a process.
var registerRoutes = sync.OnceFunc(pwa.Register)

// serve runs the server until ctx ends.
func (p program) serve(ctx context.Context, args []string) error {
	o, err := parseOptions(args, p.env, p.stdout)
	if errors.Is(err, flag.ErrHelp) {
		return nil
	}
	if err != nil {
		return err
	}
	site, err := p.site()
	if err != nil {
		return err
	}
	vault, err := openVault(o.data)
	if err != nil {
		return err
	}
	security, err := o.security(p.stderr)
	if err != nil {
		return errors.Join(err, vault.Close())
	}
	return errors.Join(p.listen(ctx, o, security, site), vault.Close())
}

// site is everything a browser can download.
func (p program) site() (*web.Site, error) {
	site, err := web.Open(p.files)
	if errors.Is(err, web.ErrNotBuilt) {
		return nil, errors.New("this program was compiled without the app inside: run \"make build\" in the source folder, then start bin/torchside")
	}
	if err != nil {
		return nil, err
	}
	registerRoutes()
	var static []string
	for _, address := range site.Addresses("/web/") {
		if address != web.WasmAddress { // go-app lists it itself
			static = append(static, address)
		}
	}
	files, err := pwa.Build(pwa.Config{Version: site.Version, WasmLength: site.WasmLength, Static: static})
	if err != nil {
		return nil, err
	}
	for address, body := range files {
		if err := site.Add(address, body); err != nil {
			return nil, err
		}
	}
	return site, nil
}

// listen opens the port, says so, and serves until ctx ends.
func (p program) listen(ctx context.Context, o options, s *security, site http.Handler) error {
	l, err := net.Listen("tcp", o.addr)
	if err != nil {
		return fmt.Errorf("the address %s cannot be used, choose another with --addr: %w", o.addr, err)
	}
	names := newHosts(append(append(list(o.names), hostOnly(o.addr)), s.names()...)...)
	p.announce(l.Addr(), o)
	app := names.check(pwa.WithSecurityHeaders(handler(s, site)))
	if !o.secure() {
		return p.serveUntil(ctx, p.newServer(app, nil), func(srv *http.Server) error { return srv.Serve(l) })
	}
	plain := names.check(pwa.WithSecurityHeaders(s.plainHandler(l.Addr())))
	return p.serveBoth(ctx, l, p.newServer(app, s.config), p.newServer(plain, nil))
}

// handler joins the app's files and the authority's page; addresses kept for devices answer that nothing is there.
func handler(s *security, site http.Handler) http.Handler {
	mux := http.NewServeMux()
	mux.Handle("/", site)
	mux.HandleFunc("/api/", http.NotFound)
	if s.authority != nil {
		s.authority.register(mux)
	}
	return mux
}
