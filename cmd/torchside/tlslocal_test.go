package main

import (
	"crypto/tls"
	"crypto/x509"
	"io"
	"math/rand/v2"
	"net/http"
	"net/netip"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
)

func openTestAuthority(t *testing.T, folder string, names ...string) *authority {
	t.Helper()
	a, err := openAuthority(folder, names, io.Discard)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// verify checks a server certificate as a browser does.
func verify(a *authority, leaf *x509.Certificate, name string, at time.Time) error {
	roots := x509.NewCertPool()
	roots.AddCert(a.pair.cert)
	_, err := leaf.Verify(x509.VerifyOptions{DNSName: name, Roots: roots, CurrentTime: at})
	return err
}

func TestAuthority_certificate_has_what_phones_ask_for(t *testing.T) {
	a := openTestAuthority(t, t.TempDir(), "shop.lan")
	ca := a.pair.cert
	if !ca.IsCA || !ca.MaxPathLenZero || ca.MaxPathLen != 0 || !ca.PermittedDNSDomainsCritical || ca.KeyUsage != x509.KeyUsageCertSign {
		t.Errorf("authority: CA %v, path length %d, constraints critical %v", ca.IsCA, ca.MaxPathLen, ca.PermittedDNSDomainsCritical)
	}
	leaf := a.leaf.Leaf
	if life := leaf.NotAfter.Sub(leaf.NotBefore); life > 397*day {
		t.Errorf("the certificate lives %v: phones refuse more than 397 days", life)
	}
	if !slices.Equal(leaf.ExtKeyUsage, []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth}) {
		t.Errorf("extended key usage is %v", leaf.ExtKeyUsage)
	}
	if !slices.Contains(leaf.DNSNames, "shop.lan") || !slices.Contains(leaf.DNSNames, "localhost") || len(leaf.IPAddresses) < 2 {
		t.Errorf("names %v, addresses %v: both kinds are needed", leaf.DNSNames, leaf.IPAddresses)
	}
	for _, name := range []string{"shop.lan", "localhost", "127.0.0.1"} {
		if err := verify(a, leaf, name, time.Now()); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Whoever steals the key must not be able to pass for another site with it.
func TestAuthority_key_is_worthless_for_other_names(t *testing.T) {
	a := openTestAuthority(t, t.TempDir(), "shop.lan")
	for name, ok := range map[string]bool{"shop.lan": true, "example.com": false, "shop.lan.example.com": false, "lan": false} {
		leaf, err := newLeafPair(a.pair, []string{name}, nil, time.Now())
		if err != nil {
			t.Fatal(err)
		}
		if err := verify(a, leaf.cert, name, time.Now()); (err == nil) != ok {
			t.Errorf("%s: %v, want accepted %v", name, err, ok)
		}
	}
	for addr, ok := range map[string]bool{"192.168.1.5": true, "100.64.0.1": true, "fd00::1": true, "8.8.8.8": false, "2001:db8::1": false} {
		leaf, err := newLeafPair(a.pair, nil, []netip.Addr{netip.MustParseAddr(addr)}, time.Now())
		if err != nil {
			t.Fatal(err)
		}
		if err := verify(a, leaf.cert, addr, time.Now()); (err == nil) != ok {
			t.Errorf("%s: %v, want accepted %v", addr, err, ok)
		}
	}
}

func TestAuthority_keys_are_for_the_owner_only(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "tls")
	openTestAuthority(t, folder)
	for _, name := range []string{"ca-key.pem", "server-key.pem"} {
		info, err := os.Stat(filepath.Join(folder, name))
		if err != nil || info.Mode().Perm() != 0o600 {
			t.Errorf("%s: mode %v, %v, want 0600", name, info.Mode(), err)
		}
	}
}

// A new authority would have to be installed on every phone again.
func TestAuthority_stays_the_same_over_restarts(t *testing.T) {
	folder := t.TempDir()
	first := openTestAuthority(t, folder)
	second := openTestAuthority(t, folder)
	if !first.pair.cert.Equal(second.pair.cert) || !first.leaf.Leaf.Equal(second.leaf.Leaf) {
		t.Error("a restart made new certificates")
	}
}

func TestAuthority_renews_the_servers_certificate_at_two_thirds_of_its_life(t *testing.T) {
	a := openTestAuthority(t, t.TempDir())
	old := a.leaf.Leaf
	for range 100 { // any moment of its life
		at := old.NotBefore.Add(time.Duration(rand.Int64N(int64(leafLife))))
		want := at.Sub(old.NotBefore) < leafLife*2/3 && at.After(old.NotBefore)
		if got := a.serves(old, a.addrs, at); got != want {
			t.Errorf("%v after its start: kept %v, want %v", at.Sub(old.NotBefore), got, want)
		}
	}
	late := old.NotBefore.Add(leafLife*2/3 + time.Hour)
	renewed, err := a.currentLeaf(a.addrs, late)
	if err != nil || renewed.cert.Equal(old) {
		t.Fatalf("not renewed: %v", err)
	}
	if err := verify(a, renewed.cert, "localhost", late); err != nil {
		t.Errorf("the renewed certificate is not trusted under the same authority: %v", err)
	}
}

func TestAuthority_makes_a_new_certificate_when_the_machine_moves(t *testing.T) {
	a := openTestAuthority(t, t.TempDir())
	moved := append(slices.Clone(a.addrs), netip.MustParseAddr("192.168.77.7"))
	leaf, err := a.currentLeaf(moved, time.Now())
	if err != nil {
		t.Fatal(err)
	}
	if err := verify(a, leaf.cert, "192.168.77.7", time.Now()); err != nil {
		t.Error(err)
	}
}

func TestOpenAuthority_refuses_what_it_cannot_keep(t *testing.T) {
	folder := t.TempDir()
	openTestAuthority(t, folder, "shop.lan")
	if _, err := openAuthority(folder, []string{"other.lan"}, io.Discard); err == nil || !strings.Contains(err.Error(), `"other.lan"`) {
		t.Errorf("a name outside its constraints: %v", err)
	}
	if _, err := openAuthority(folder, []string{"sub.shop.lan", "192.168.1.1", ""}, io.Discard); err != nil {
		t.Errorf("a name below one of its own: %v", err)
	}
	if err := os.Remove(filepath.Join(folder, "ca-key.pem")); err != nil {
		t.Fatal(err)
	}
	if _, err := openAuthority(folder, nil, io.Discard); err == nil || !strings.Contains(err.Error(), "other half is missing") {
		t.Errorf("half an authority: %v; phones may trust it, so it must not be replaced", err)
	}
}

func startLocal(t *testing.T) (*running, *http.Client) {
	t.Helper()
	data := t.TempDir()
	s := start(t, "--addr", "127.0.0.1:0", "--data", data, "--tls-local")
	pemCA, err := os.ReadFile(filepath.Join(data, "tls", "ca.pem"))
	if err != nil {
		t.Fatal(err)
	}
	pool := x509.NewCertPool()
	pool.AppendCertsFromPEM(pemCA)
	return s, clientTrusting(&tls.Config{RootCAs: pool})
}

func TestServe_with_a_local_authority_is_trusted_and_speaks_HTTP2(t *testing.T) {
	s, client := startLocal(t)
	resp, body := fetch(t, client, s.url+"/", "")
	if resp.StatusCode != http.StatusOK || resp.ProtoMajor != 2 || !strings.Contains(body, "Torchside") {
		t.Errorf("got %d over %s", resp.StatusCode, resp.Proto)
	}
	if resp.Header.Get("Strict-Transport-Security") != "" {
		t.Error("strict transport security was sent")
	}
	if code := s.stop(); code != exitOK {
		t.Errorf("exit code %d: %s", code, s.output)
	}
}

// A phone that does not trust the certificate yet gets it over plain HTTP at the same port; all
// else is sent to HTTPS.
func TestServe_plain_HTTP_on_the_TLS_port_gives_the_authority_and_redirects(t *testing.T) {
	s, client := startLocal(t)
	plain := strings.Replace(s.url, "https:", "http:", 1)
	resp, page := fetch(t, client, plain+"/ca", "")
	if resp.StatusCode != http.StatusOK {
		t.Fatalf("/ca: %d", resp.StatusCode)
	}
	for _, part := range []string{"Certificate Trust Settings", "CA certificate", "<svg", `href="/ca/torchside-ca.crt"`, "https://"} {
		if !strings.Contains(page, part) {
			t.Errorf("/ca lacks %q", part)
		}
	}
	if inline := regexp.MustCompile(`<script|<style|style="`).FindString(page); inline != "" {
		t.Errorf("/ca holds %q, which its policy refuses", inline)
	}
	_, der := fetch(t, client, plain+"/ca/torchside-ca.crt", "")
	if cert, err := x509.ParseCertificate([]byte(der)); err != nil || !cert.IsCA {
		t.Errorf("the certificate: %v", err)
	}
	resp, _ = fetch(t, client, plain+"/leak?a=b", "")
	if to := resp.Header.Get("Location"); resp.StatusCode != http.StatusTemporaryRedirect || to != s.url+"/leak?a=b" {
		t.Errorf("got %d to %q, want a redirect to %s/leak?a=b", resp.StatusCode, to, s.url)
	}
	resp, _ = fetch(t, client, plain+"/", "evil.example")
	if resp.StatusCode != http.StatusMisdirectedRequest {
		t.Errorf("a forged host was sent on: %d", resp.StatusCode)
	}
}

func TestPhoneAddress_replaces_names_for_the_machine_itself(t *testing.T) {
	here := phoneHost("")
	for in, want := range map[string]string{
		"localhost:8443":  here + ":8443",
		"127.0.0.1:8443":  here + ":8443",
		"[::1]:8443":      here + ":8443",
		"localhost":       here,
		"shop.lan:8443":   "shop.lan:8443",
		"192.168.1.9:443": "192.168.1.9:443",
	} {
		if got := phoneAddress(in); got != want {
			t.Errorf("%s: got %s, want %s", in, got, want)
		}
	}
}

// The three finder patterns and the quiet zone of ISO/IEC 18004.
func TestQRSVG_draws_a_code_with_its_margin(t *testing.T) {
	svg, err := qrSVG("http://192.168.1.5:8443/ca")
	if err != nil {
		t.Fatal(err)
	}
	m := regexp.MustCompile(`viewBox="0 0 (\d+) (\d+)"`).FindStringSubmatch(string(svg))
	if m == nil || m[1] != "33" || m[2] != "33" { // version 2: 25 modules, and 4 on each side
		t.Fatalf("viewBox is %v", m)
	}
	for _, corner := range []string{"M4 4h", "M28 4h", "M4 28h"} {
		if !strings.Contains(string(svg), corner) {
			t.Errorf("no finder pattern at %s", corner)
		}
	}
}

func TestCertificateFiles_are_read_again_when_they_change(t *testing.T) {
	folder := t.TempDir()
	cert, key := filepath.Join(folder, "c.pem"), filepath.Join(folder, "k.pem")
	first := writeTestPair(t, cert, key, "one.lan", time.Now().Add(-time.Hour))
	f, err := openCertificateFiles(cert, key, io.Discard)
	if err != nil {
		t.Fatal(err)
	}
	if got := f.names(); !slices.Equal(got, []string{"one.lan"}) {
		t.Errorf("names %v", got)
	}
	second := writeTestPair(t, cert, key, "two.lan", time.Now())
	got, err := f.get(nil)
	if err != nil || !got.Leaf.Equal(second.cert) || got.Leaf.Equal(first.cert) {
		t.Errorf("the new certificate is not in use: %v, %v", got.Leaf.DNSNames, err)
	}
}

// A renewal tool writes one file after the other; in between the old certificate must serve.
func TestCertificateFiles_half_written_change_keeps_the_old_and_says_so_once(t *testing.T) {
	folder := t.TempDir()
	cert, key := filepath.Join(folder, "c.pem"), filepath.Join(folder, "k.pem")
	first := writeTestPair(t, cert, key, "one.lan", time.Now().Add(-time.Hour))
	var notes safeBuffer
	f, err := openCertificateFiles(cert, key, &notes)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(cert, []byte("half"), 0o600); err != nil {
		t.Fatal(err)
	}
	for range 3 {
		if got, err := f.get(nil); err != nil || !got.Leaf.Equal(first.cert) {
			t.Errorf("the old certificate is gone: %v", err)
		}
	}
	if n := strings.Count(notes.String(), "not used yet"); n != 1 {
		t.Errorf("said %d times, want once: %s", n, notes.String())
	}
}

func writeTestPair(t *testing.T, certPath, keyPath, name string, changed time.Time) keyPair {
	t.Helper()
	ca, err := newAuthorityPair([]string{name}, time.Now())
	if err != nil {
		t.Fatal(err)
	}
	leaf, err := newLeafPair(ca, []string{name}, nil, time.Now())
	if err != nil {
		t.Fatal(err)
	}
	if err := leaf.write(certPath, keyPath); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{certPath, keyPath} {
		if err := os.Chtimes(path, changed, changed); err != nil {
			t.Fatal(err)
		}
	}
	return leaf
}

func TestServe_with_certificate_files_answers_to_their_names(t *testing.T) {
	folder := t.TempDir()
	cert, key := filepath.Join(folder, "c.pem"), filepath.Join(folder, "k.pem")
	leaf := writeTestPair(t, cert, key, "shop.lan", time.Now())
	s := start(t, "--addr", "127.0.0.1:0", "--data", folder, "--tls-cert", cert, "--tls-key", key)
	pool := x509.NewCertPool()
	pool.AddCert(leaf.cert)
	client := clientTrusting(&tls.Config{RootCAs: pool, ServerName: "shop.lan"})
	if resp, _ := fetch(t, client, s.url+"/", "shop.lan"); resp.StatusCode != http.StatusOK {
		t.Errorf("shop.lan: %d", resp.StatusCode)
	}
	if resp, _ := fetch(t, client, s.url+"/ca", "shop.lan"); resp.StatusCode != http.StatusNotFound {
		t.Errorf("/ca without an authority: %d, want 404", resp.StatusCode)
	}
}
