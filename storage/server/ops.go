package server

import (
	"context"
	"net/http"
	"time"
)

// healthWait bounds how long the vault may take to show that it lives.
const healthWait = 5 * time.Second

// Health answers 200 while the vault can be read: for whatever watches the server. It tells
// strangers nothing else.
func (s *Server) Health(w http.ResponseWriter, r *http.Request) {
	ctx, cancel := context.WithTimeout(r.Context(), healthWait)
	defer cancel()
	w.Header().Set("Cache-Control", "no-store")
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	if _, err := s.vault.Shops(ctx); err != nil {
		s.log.ErrorContext(r.Context(), "the vault cannot be read", "cause", err.Error())
		w.WriteHeader(http.StatusServiceUnavailable)
		_, _ = w.Write([]byte("the vault cannot be read\n")) // a visitor who has gone cannot be told
		return
	}
	_, _ = w.Write([]byte("ok\n"))
}

// Metrics gives counts in the text form of Prometheus. They name no device, but tell how a shop
// works: the caller decides who may see them.
func (s *Server) Metrics(w http.ResponseWriter, r *http.Request) {
	stats, err := s.vault.Stats(r.Context())
	if err != nil {
		http.Error(w, "the vault cannot be read", http.StatusServiceUnavailable)
		return
	}
	w.Header().Set("Cache-Control", "no-store")
	w.Header().Set("Content-Type", "text/plain; version=0.0.4; charset=utf-8")
	_ = s.metrics.write(w, stats) // a visitor who has gone cannot be told
}
