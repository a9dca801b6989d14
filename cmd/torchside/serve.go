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
	"torchside/storage/server"
	"torchside/web"
)

// Limits against connections that never finish. The protocol sets its own, as it sees progress.
const (
	readTimeout   = 30 * time.Second
	headerTimeout = 10 * time.Second
	writeTimeout  = 5 * time.Minute // the whole app over a bad line
	idleTimeout   = 2 * time.Minute
	shutdownWait  = 5 * time.Second
	maxHeader     = 16 << 10 // bytes
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
	held, err := p.open(o.data)
	if err != nil {
		return err
	}
	log := p.logger()
	security, err := o.security(notes{log})
	if err != nil {
		return errors.Join(err, held.Close())
	}
	api := server.New(server.Config{Vault: held, Log: log, Allow: list(o.allow)})
	return errors.Join(p.listen(ctx, o, security, &service{site: site, api: api, vault: held, metrics: o.metrics}), held.Close())
}

// site is everything a browser can download, at the root of this server.
func (p program) site() (*web.Site, error) { return p.siteFor(pwa.Config{}) }

// siteFor is the same for where the configuration puts it; what comes from the build is filled in.
func (p program) siteFor(c pwa.Config) (*web.Site, error) {
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
	orders, _ := site.Body("/web/orders.json") // Build refuses a site without
	c.Version, c.Release, c.WasmLength, c.Static, c.Orders = site.Version, release, site.WasmLength, static, orders
	files, err := pwa.Build(c)
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
func (p program) listen(ctx context.Context, o options, s *security, sv *service) error {
	l, err := net.Listen("tcp", o.addr)
	if err != nil {
		return fmt.Errorf("the address %s cannot be used, choose another with --addr: %w", o.addr, err)
	}
	own := owner{vault: sv.vault, origin: o.origin(l.Addr(), s), now: time.Now}
	if err := own.firstShop(ctx); err != nil {
		return errors.Join(err, l.Close())
	}
	ctx, stop := context.WithCancel(ctx)
	tended := own.tend(ctx, p.logger())
	defer func() { stop(); <-tended }()
	port := p.tryOwnerPort(o.data, own)
	p.announce(l.Addr(), o)
	p.welcome(ctx, own)
	return errors.Join(p.serveAll(ctx, o, s, sv, limitConns(l)), port.close())
}

// serveAll serves on the port, and where TLS is spoken also what plain HTTP is for.
func (p program) serveAll(ctx context.Context, o options, s *security, sv *service, l net.Listener) error {
	names := newHosts(append(append(list(o.names), hostOnly(o.addr)), s.names()...)...)
	app := names.check(pwa.WithSecurityHeaders(o.strict(sv.handler(s))))
	if !o.secure() {
		return p.serveUntil(ctx, p.newServer(app, nil), func(srv *http.Server) error { return srv.Serve(l) })
	}
	plain := names.check(pwa.WithSecurityHeaders(s.plainHandler(l.Addr())))
	defer p.servePlain(ctx, o, plain)()
	return p.serveBoth(ctx, l, p.newServer(app, s.config), p.newServer(plain, nil))
}
