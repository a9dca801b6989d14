package main

import (
	"crypto/tls"
	"io"
	"net"
	"net/http"
	"path/filepath"

	"golang.org/x/crypto/acme/autocert"
)

// security is how the server proves who it is; all fields are nil on plain HTTP.
type security struct {
	config    *tls.Config
	authority *authority        // --tls-local
	files     *certificateFiles // --tls-cert
	acme      *autocert.Manager // --tls-acme
	acmeNames []string
}

// security prepares what the options ask for; notes for the owner go to notes.
func (o options) security(notes io.Writer) (*security, error) {
	s := &security{}
	var err error
	switch {
	case o.tlsCert != "":
		s.files, err = openCertificateFiles(o.tlsCert, o.tlsKey, notes)
		if err != nil {
			return nil, err
		}
		s.config = &tls.Config{GetCertificate: s.files.get}
	case o.tlsLocal:
		s.authority, err = openAuthority(filepath.Join(o.data, "tls"), append(list(o.names), hostOnly(o.addr)), notes)
		if err != nil {
			return nil, err
		}
		s.config = &tls.Config{GetCertificate: s.authority.get}
	case o.tlsACME != "":
		s.acmeNames = list(o.tlsACME)
		s.acme = &autocert.Manager{
			Prompt:     autocert.AcceptTOS,
			HostPolicy: autocert.HostWhitelist(s.acmeNames...),
			// On disk: asking anew at each start runs into the issuer's rate limits.
			Cache: autocert.DirCache(filepath.Join(o.data, "acme")),
		}
		s.config = s.acme.TLSConfig()
	}
	if s.config != nil {
		s.config.MinVersion = tls.VersionTLS12
	}
	return s, nil
}

// names are the host names the certificates are for.
func (s *security) names() []string {
	if s.files != nil {
		return s.files.names()
	}
	return s.acmeNames
}

// plainHandler answers plain HTTP on a TLS port: the authority's page, ACME challenges, and for
// all else the way to the same page over HTTPS. at is the TLS listener's address.
func (s *security) plainHandler(at net.Addr) http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("/", func(w http.ResponseWriter, r *http.Request) {
		http.Redirect(w, r, url("https", at, hostOnly(r.Host))+r.URL.RequestURI(), http.StatusTemporaryRedirect)
	})
	if s.authority != nil {
		s.authority.register(mux)
	}
	if s.acme != nil {
		return s.acme.HTTPHandler(mux)
	}
	return mux
}
