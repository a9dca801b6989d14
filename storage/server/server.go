package server

import (
	"context"
	"errors"
	"log/slog"
	"net/http"
	"strconv"
	"time"

	"torchside/storage/vault"
)

// Config is what a Server stands on.
type Config struct {
	Vault vault.Vault
	Log   *slog.Logger     // no token, code or body is ever written to it
	Now   func() time.Time // the clock codes end by; nil for the system's
	// Allow are the origins of other sites whose pages may ask, as a static host that has the app; each passes CheckOrigin.
	Allow []string
}

// Server answers the protocol. It may be used by any number of goroutines at once.
type Server struct {
	vault    vault.Vault
	log      *slog.Logger
	now      func() time.Time
	routes   []route
	origins  *http.CrossOriginProtection
	allowed  map[string]bool // origins of other sites
	metrics  *metrics
	slots    chan struct{} // taken by requests of devices
	doors    chan struct{} // taken by requests of strangers
	strange  *limiter      // strangers, by address
	devices  *limiter      // devices, by id
	codesFor *limiter      // codes made, by shop
	stall    time.Duration // shorter in tests
}

// Limits on how often and how many at once. The paces are far above what an app does by itself:
// they stop a fault or an attack, not a person.
const (
	maxSlots = 32 // times a few MB for a request at its limits: below 100 MB
	maxDoors = 8
	// slotWait is how long a request waits for others to end before it is told to come back.
	slotWait = 10 * time.Second
	// requestTime bounds the work for one request, the reading of its body included.
	requestTime = longest + stall
)

// New makes a Server over a vault. The vault stays the caller's to close.
func New(c Config) *Server {
	s := &Server{
		vault: c.Vault, log: c.Log, now: c.Now,
		origins:  http.NewCrossOriginProtection(),
		allowed:  map[string]bool{},
		metrics:  newMetrics(),
		slots:    make(chan struct{}, maxSlots),
		doors:    make(chan struct{}, maxDoors),
		strange:  newLimiter(20, 3*time.Second),
		devices:  newLimiter(3000, 2*time.Millisecond),
		codesFor: newLimiter(10, time.Minute),
		stall:    stall,
	}
	if s.now == nil {
		s.now = time.Now
	}
	for _, origin := range c.Allow {
		if err := errors.Join(CheckOrigin(origin), s.origins.AddTrustedOrigin(origin)); err != nil {
			panic("server.Config.Allow: " + err.Error()) // the caller was to check it
		}
		s.allowed[origin] = true
	}
	s.routes = s.table()
	return s
}

// ServeHTTP answers one request under wire.Prefix. Mount it beside the app's files, not under them.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	start := time.Now()
	out := &recorder{ResponseWriter: w, status: http.StatusOK}
	ctx, cancel := context.WithTimeout(r.Context(), requestTime)
	defer cancel()
	r = r.WithContext(ctx)
	w.Header().Set("Cache-Control", "no-store")
	if s.allowOthers(out, r) {
		return
	}
	s.metrics.begin()
	var who caller
	rt, params, err := s.find(r)
	if err == nil {
		who, err = s.admitted(out, r, rt, params)
	}
	broken := err != nil && out.begun
	if err != nil && !broken {
		writeProblem(out, r, problemOf(err))
	}
	took := time.Since(start)
	s.metrics.end(rt.name(), strconv.Itoa(out.status), took)
	s.note(r, rt, who, out, took, err)
	if broken {
		panic(http.ErrAbortHandler) // cuts the connection: half an answer must not pass for a whole one
	}
}

// admitted lets the request in and answers it.
func (s *Server) admitted(w http.ResponseWriter, r *http.Request, rt *route, params []string) (caller, error) {
	who, err := s.admit(r, rt)
	if err != nil {
		return who, err
	}
	slots := s.slots
	if rt.open {
		slots = s.doors
	}
	wait := time.NewTimer(slotWait)
	defer wait.Stop()
	select {
	case slots <- struct{}{}:
		defer func() { <-slots }()
	case <-wait.C:
		return who, unavailable()
	}
	s.hurry(w, r)
	return who, rt.serve(w, r, who, params)
}

// note writes one line for the log. Routes, not addresses, are noted: an address holds the name of
// an attachment.
func (s *Server) note(r *http.Request, rt *route, who caller, w *recorder, took time.Duration, err error) {
	level := slog.LevelInfo
	attrs := []slog.Attr{
		slog.String("route", rt.name()), slog.Int("status", w.status), slog.Int64("bytes", w.bytes),
		slog.Duration("took", took), slog.String("from", address(r)),
	}
	if who.device.ID != "" {
		attrs = append(attrs, slog.String("device", string(who.device.ID)), slog.String("shop", string(who.device.Shop)))
	}
	if err != nil {
		p := problemOf(err)
		level = p.level()
		attrs = append(attrs, slog.String("code", string(p.body.Code)))
		if p.cause != nil {
			attrs = append(attrs, slog.String("cause", p.cause.Error()))
		}
	}
	s.log.LogAttrs(r.Context(), level, "request", attrs...)
}

// recorder remembers what was answered.
type recorder struct {
	http.ResponseWriter
	status int
	bytes  int64
	begun  bool
}

// WriteHeader notes the status.
func (w *recorder) WriteHeader(status int) {
	if !w.begun {
		w.status, w.begun = status, true
	}
	w.ResponseWriter.WriteHeader(status)
}

// Write counts the bytes.
func (w *recorder) Write(p []byte) (int, error) {
	w.begun = true
	n, err := w.ResponseWriter.Write(p)
	w.bytes += int64(n)
	return n, err
}

// Unwrap lets http.ResponseController reach the connection.
func (w *recorder) Unwrap() http.ResponseWriter { return w.ResponseWriter }
