package main

import (
	_ "embed" // the page
	"fmt"
	"html/template"
	"net"
	"net/http"
	"net/netip"
	"strings"

	"rsc.io/qr"
)

//go:embed ca.html
var authorityHTML string

//go:embed ca.css
var authorityCSS string

var authorityPage = template.Must(template.New("ca").Parse(authorityHTML))

// register adds the authority's page to a mux. It is served over plain HTTP too, as a phone needs
// it before it can trust HTTPS; the certificate is public, so nothing is given away.
func (a *authority) register(mux *http.ServeMux) {
	mux.HandleFunc("GET /ca", a.servePage)
	mux.HandleFunc("GET /ca/torchside-ca.crt", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "application/x-x509-ca-cert")
		w.Header().Set("Content-Disposition", `attachment; filename="torchside-ca.crt"`)
		_, _ = w.Write(a.pair.cert.Raw) // a visitor who has gone cannot be told
	})
	mux.HandleFunc("GET /ca/page.css", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/css; charset=utf-8")
		_, _ = w.Write([]byte(authorityCSS))
	})
}

func (a *authority) servePage(w http.ResponseWriter, r *http.Request) {
	host := phoneAddress(r.Host)
	code, err := qrSVG("http://" + host + "/ca")
	if err != nil {
		http.Error(w, "the code cannot be drawn: "+err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	_ = authorityPage.Execute(w, struct { // a visitor who has gone cannot be told
		Address, App string
		Code         template.HTML
		Names        []string
		Until        string
	}{
		"http://" + host + "/ca", "https://" + host + "/", code,
		a.pair.cert.PermittedDNSDomains, a.pair.cert.NotAfter.Format("2 January 2006"),
	})
}

// quietZone is the empty margin a QR code needs (ISO/IEC 18004: four modules).
const quietZone = 4

// qrSVG draws a QR code as an inline SVG.
func qrSVG(text string) (template.HTML, error) {
	code, err := qr.Encode(text, qr.M)
	if err != nil {
		return "", err
	}
	var path strings.Builder
	for y := range code.Size {
		for x := range code.Size {
			if code.Black(x, y) {
				fmt.Fprintf(&path, "M%d %dh1v1h-1z", x+quietZone, y+quietZone)
			}
		}
	}
	size := code.Size + 2*quietZone
	// Only digits and our own letters go in: safe as HTML.
	return template.HTML(fmt.Sprintf(
		`<svg class="code" viewBox="0 0 %d %d" role="img" aria-label="The address of this page as a code" shape-rendering="crispEdges">`+
			`<path fill="#fff" d="M0 0h%dv%dh-%dz"/><path fill="#000" d="%s"/></svg>`,
		size, size, size, size, size, path.String())), nil
}

// phoneAddress is the host and port under which a phone reaches a server that this browser calls
// hostport: the same, unless that is a name for the machine itself.
func phoneAddress(hostport string) string {
	host := hostOnly(hostport)
	addr, err := netip.ParseAddr(host)
	if host != "localhost" && (err != nil || !addr.IsLoopback()) {
		return hostport
	}
	if _, port, err := net.SplitHostPort(hostport); err == nil {
		return net.JoinHostPort(phoneHost(""), port)
	}
	return phoneHost("")
}
