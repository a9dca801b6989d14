package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"net/netip"
	"strings"

	"torchside/storage/server"
	"torchside/storage/vault"
)

// Who may read /metrics.
const (
	metricsHere = "loopback"
	metricsAll  = "all"
	metricsOff  = "off"
)

// service is what the port answers with.
type service struct {
	site    http.Handler
	api     *server.Server
	vault   vault.Vault
	metrics string
}

// handler joins the app's files, the protocol, the authority's page, and what watches the server.
func (sv *service) handler(s *security) http.Handler {
	mux := http.NewServeMux()
	mux.Handle("/", sv.site)
	mux.Handle("/api/", sv.api)
	mux.HandleFunc("GET /healthz", sv.api.Health)
	mux.HandleFunc("GET /metrics", sv.serveMetrics)
	if s.authority != nil {
		s.authority.register(mux)
	}
	return mux
}

// serveMetrics answers who may know, and to others as if nothing were there.
func (sv *service) serveMetrics(w http.ResponseWriter, r *http.Request) {
	if sv.metrics == metricsAll || sv.metrics == metricsHere && fromHere(r) {
		sv.api.Metrics(w, r)
		return
	}
	http.NotFound(w, r)
}

// fromHere tells whether a request was made on this machine. A proxy on it passes on those of
// others, and says so.
func fromHere(r *http.Request) bool {
	addr, err := netip.ParseAddr(hostOnly(r.RemoteAddr))
	return err == nil && addr.Unmap().IsLoopback() && r.Header.Get("Forwarded") == "" && r.Header.Get("X-Forwarded-For") == ""
}

// firstShop makes the shop that nearly everybody needs.
func (o owner) firstShop(ctx context.Context) error {
	shops, err := o.vault.Shops(ctx)
	if err != nil || len(shops) > 0 {
		return err
	}
	_, err = o.addShop(ctx, firstShop)
	return err
}

// welcome prints a code while no device is let in: there is no other way in, and no password. A
// server without one is still of use, so what fails is only told.
func (p program) welcome(ctx context.Context, o owner) {
	if err := p.firstCode(ctx, o); err != nil {
		fmt.Fprintf(p.stdout, "No code could be made for a first device: %v\n\"torchside pair\" makes one once that is mended.\n", err)
		p.logger().Error("no code for a first device", "cause", err.Error())
	}
}

func (p program) firstCode(ctx context.Context, o owner) error {
	stats, err := o.vault.Stats(ctx)
	if err != nil || len(stats.Shops) != 1 || stats.Shops[0].Devices > 0 {
		return err
	}
	reply, err := o.do(ctx, ownerRequest{Do: "pair"})
	if err != nil {
		return err
	}
	return p.printCode(reply)
}

// origin is where a phone finds the app: a name the certificate is for, else one the owner gave, else an address.
func (o options) origin(at net.Addr, s *security) string {
	if !o.secure() {
		return url("http", at, phoneHost(hostOnly(o.addr)))
	}
	for _, name := range append(s.names(), list(o.names)...) {
		if !strings.Contains(name, "*") {
			return url("https", at, name)
		}
	}
	return url("https", at, phoneHost(hostOnly(o.addr)))
}

// strictTime is a year, in seconds: what browsers' preload lists ask for at least.
const strictTime = 365 * 24 * 60 * 60

// strict tells browsers to come over HTTPS only (RFC 6797), where that cannot lock anybody out: on
// the standard port with a certificate every browser trusts and that renews itself. With an own
// authority it would shut out each phone that has not installed it yet.
func (o options) strict(next http.Handler) http.Handler {
	if o.tlsACME == "" || !strings.HasSuffix(o.addr, ":443") {
		return next
	}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Strict-Transport-Security", fmt.Sprintf("max-age=%d", strictTime))
		next.ServeHTTP(w, r)
	})
}

// servePlain answers plain HTTP on a further port until the function it gives is called. Without
// that port the server is still of use: the log says what is missing.
func (p program) servePlain(ctx context.Context, o options, h http.Handler) (end func()) {
	if o.plain == "" || o.plain == "off" {
		return func() {}
	}
	l, err := net.Listen("tcp", o.plain)
	if err != nil {
		p.logger().Warn("plain HTTP is not sent on to HTTPS: the address cannot be used", "address", o.plain, "cause", err.Error())
		return func() {}
	}
	p.logger().Info("plain HTTP is sent on to HTTPS", "address", l.Addr().String())
	ctx, cancel := context.WithCancel(ctx)
	done := make(chan error, 1)
	go func() {
		done <- p.serveUntil(ctx, p.newServer(h, nil), func(srv *http.Server) error { return srv.Serve(limitConns(l)) })
	}()
	return func() {
		cancel()
		if err := <-done; err != nil && !errors.Is(err, http.ErrServerClosed) {
			p.logger().Warn("plain HTTP ended", "cause", err.Error())
		}
	}
}

// logger writes JSON lines to the error stream.
func (p program) logger() *slog.Logger { return slog.New(slog.NewJSONHandler(p.stderr, nil)) }

// notes is a log for those who write lines of text.
type notes struct{ log *slog.Logger }

// Write logs one line.
func (n notes) Write(line []byte) (int, error) {
	n.log.Warn(strings.TrimSpace(strings.TrimPrefix(string(line), "torchside: ")))
	return len(line), nil
}
