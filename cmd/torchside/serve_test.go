package main

import (
	"bytes"
	"context"
	"crypto/tls"
	"encoding/json"
	"io"
	"net"
	"net/http"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"torchside/pwa"
	"torchside/web"
)

// running is a server under test.
type running struct {
	url    string // as announced
	output *safeBuffer
	stop   func() int // ends it and gives the exit code; may be called once
}

// safeBuffer is a bytes.Buffer for two goroutines.
type safeBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (s *safeBuffer) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.Write(p)
}

func (s *safeBuffer) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.String()
}

var announced = regexp.MustCompile(`is at (\S+)\n(?s:.*)Data: `)

// start runs "torchside serve" with the stand-in build and waits until it says where it is.
func start(t *testing.T, args ...string) *running {
	t.Helper()
	ctx, cancel := context.WithCancel(t.Context())
	out := &safeBuffer{}
	p := program{env: func(string) (string, bool) { return "", false }, stdout: out, stderr: out, files: builtFiles(), open: openVault}
	ended := make(chan int, 1)
	go func() { ended <- p.run(ctx, append([]string{"serve"}, args...)) }()
	t.Cleanup(cancel)
	stop := func() int { cancel(); return <-ended }
	for {
		if m := announced.FindStringSubmatch(out.String()); m != nil {
			return &running{m[1], out, stop}
		}
		select {
		case code := <-ended:
			t.Fatalf("the server ended with %d before it was ready: %s", code, out)
		case <-time.After(5 * time.Millisecond):
		}
	}
}

func startPlain(t *testing.T) *running {
	t.Helper()
	return start(t, "--addr", "127.0.0.1:0", "--data", t.TempDir())
}

// fetch asks for an address with an own Host header if host is not empty.
func fetch(t *testing.T, client *http.Client, url, host string) (*http.Response, string) {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), http.MethodGet, url, nil)
	if err != nil {
		t.Fatal(err)
	}
	r.Host = host
	resp, err := client.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer resp.Body.Close()
	body, err := io.ReadAll(resp.Body)
	if err != nil {
		t.Fatal(err)
	}
	return resp, string(body)
}

var precachedList = regexp.MustCompile(`(?m)^const precached = (.*);$`)

// One address that does not answer and the browser stores nothing at all.
func TestServe_every_precached_address_answers_200_from_here(t *testing.T) {
	s := startPlain(t)
	_, worker := fetch(t, http.DefaultClient, s.url+"/app-worker.js", "")
	var list []string
	if err := json.Unmarshal([]byte(precachedList.FindStringSubmatch(worker)[1]), &list); err != nil {
		t.Fatal(err)
	}
	if len(list) < 10 {
		t.Fatalf("only %v", list)
	}
	for _, address := range list {
		if !strings.HasPrefix(address, "/") || strings.HasPrefix(address, "//") {
			t.Errorf("%s is not on this server", address)
			continue
		}
		resp, body := fetch(t, http.DefaultClient, s.url+address, "")
		if resp.StatusCode != http.StatusOK || len(body) == 0 {
			t.Errorf("%s: %d with %d bytes", address, resp.StatusCode, len(body))
		}
		if cache := resp.Header.Get("Cache-Control"); cache != "no-cache" {
			t.Errorf("%s: Cache-Control %q: with no-store the first visit would fetch it twice", address, cache)
		}
	}
	if s.stop() != exitOK {
		t.Error("the server did not end well")
	}
}

func TestServe_every_route_answers_with_the_page(t *testing.T) {
	s := startPlain(t)
	for _, r := range pwa.Routes {
		resp, body := fetch(t, http.DefaultClient, s.url+r.Path+"?source=homescreen", "")
		if resp.StatusCode != http.StatusOK || !strings.Contains(body, "/app.js") {
			t.Errorf("%s: %d", r.Path, resp.StatusCode)
		}
		if !strings.HasPrefix(resp.Header.Get("Content-Security-Policy"), "default-src 'self'") {
			t.Errorf("%s has no content security policy", r.Path)
		}
	}
}

// Everything that is text and can make a browser fetch something.
func TestServe_no_file_names_another_host(t *testing.T) {
	p := program{files: builtFiles()}
	site, err := p.site()
	if err != nil {
		t.Fatal(err)
	}
	remote := regexp.MustCompile(`https?://[^\s"'<>)]*|url\(\s*["']?//[^)]*|(src|href)="//[^"]*`)
	namespace := regexp.MustCompile(`^http://www\.w3\.org/(2000/svg|1999/xlink|1999/xhtml)$`)
	comment := regexp.MustCompile(`(?m)^\s*//.*$|(?s:/\*.*?\*/)`)
	for _, address := range site.Addresses("/") {
		body, _ := site.Body(address)
		if address == web.WasmAddress || strings.HasSuffix(address, ".png") {
			continue
		}
		for _, found := range remote.FindAllString(comment.ReplaceAllString(string(body), ""), -1) {
			if !namespace.MatchString(found) {
				t.Errorf("%s names %s", address, found)
			}
		}
	}
}

// go-app would fetch these three from whatever host the request names, and keep the answer.
func TestServe_crawler_files_are_our_own_and_a_forged_host_gets_nothing(t *testing.T) {
	s := startPlain(t)
	if resp, body := fetch(t, http.DefaultClient, s.url+"/robots.txt", ""); resp.StatusCode != http.StatusOK || !strings.HasPrefix(body, "User-agent") {
		t.Errorf("robots.txt: %d %q", resp.StatusCode, body)
	}
	for _, address := range []string{"/sitemap.xml", "/ads.txt"} {
		if resp, _ := fetch(t, http.DefaultClient, s.url+address, ""); resp.StatusCode != http.StatusNotFound {
			t.Errorf("%s: %d, want 404", address, resp.StatusCode)
		}
	}
	for _, address := range []string{"/", "/robots.txt", "/web/boot.js", "/api/v1/sync"} {
		resp, body := fetch(t, http.DefaultClient, s.url+address, "evil.example")
		if resp.StatusCode != http.StatusMisdirectedRequest || !strings.Contains(body, "evil.example") {
			t.Errorf("%s with a forged host: %d", address, resp.StatusCode)
		}
	}
}

// A restart must not look like a new version: phones would load everything again.
func TestServe_a_restart_changes_no_file(t *testing.T) {
	files := func() map[string]string {
		s := startPlain(t)
		defer s.stop()
		all := map[string]string{}
		for _, address := range []string{"/app-worker.js", "/app.js", "/web/boot.js", "/manifest.webmanifest", "/web/app.wasm"} {
			resp, body := fetch(t, http.DefaultClient, s.url+address, "")
			all[address] = resp.Header.Get("ETag") + body
		}
		return all
	}
	first, second := files(), files()
	for address := range first {
		if first[address] != second[address] {
			t.Errorf("%s has changed", address)
		}
	}
}

func TestServe_startup_lines_say_where_and_what_plain_http_cannot_do(t *testing.T) {
	if out := startPlain(t).output.String(); strings.Contains(out, "offline") {
		t.Errorf("on loopback there is nothing to warn of: %s", out)
	}
	s := start(t, "--addr", "0.0.0.0:0", "--data", t.TempDir())
	if out := s.output.String(); !strings.Contains(s.url, "http://localhost:") {
		t.Errorf("no address to open: %s", out)
	}
	waitFor(t, s.output, "--tls-local")
	waitFor(t, s.output, "offline")
}

func waitFor(t *testing.T, out *safeBuffer, text string) {
	t.Helper()
	for range 1000 {
		if strings.Contains(out.String(), text) {
			return
		}
		time.Sleep(5 * time.Millisecond)
	}
	t.Errorf("never said %q: %s", text, out)
}

// A request under way when the server is told to stop is still answered.
func TestServe_stops_gracefully(t *testing.T) {
	s := startPlain(t)
	conn, err := net.Dial("tcp", strings.TrimPrefix(s.url, "http://"))
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	if _, err := io.WriteString(conn, "GET /robots.txt HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n"); err != nil {
		t.Fatal(err)
	}
	answer, err := io.ReadAll(conn)
	if err != nil || !strings.Contains(string(answer), "200 OK") {
		t.Errorf("got %v, %q", err, answer)
	}
	if code := s.stop(); code != exitOK {
		t.Errorf("exit code %d: %s", code, s.output)
	}
	if _, err := net.DialTimeout("tcp", strings.TrimPrefix(s.url, "http://"), time.Second); err == nil {
		t.Error("the port is still open")
	}
}

// clientTrusting is a browser's stand-in that trusts what pool trusts.
func clientTrusting(config *tls.Config) *http.Client {
	return &http.Client{
		Transport:     &http.Transport{TLSClientConfig: config, ForceAttemptHTTP2: true, DisableKeepAlives: true},
		CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse },
	}
}
