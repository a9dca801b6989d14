//go:build !js

package pwa

import "net/http"

// contentSecurityPolicy allows our own files only. "wasm-unsafe-eval" is needed to start the
// program; inline script and inline style stay refused. No transport security header is sent:
// it would lock out a shop whose own certificate authority is not yet trusted.
const contentSecurityPolicy = "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; " +
	"style-src 'self'; img-src 'self' blob: data:; connect-src 'self'; worker-src 'self'; " +
	"manifest-src 'self'; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"

// WithSecurityHeaders adds to every answer the headers that bind a page to our own files.
// Browsers keep them with the offline copy, so they belong to the version like any file.
func WithSecurityHeaders(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", contentSecurityPolicy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "same-origin")
		// No other site's window may hold on to ours, nor embed a file of ours. No embedder policy: nothing here shares memory.
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		next.ServeHTTP(w, r)
	})
}
