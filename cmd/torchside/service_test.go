package main

import (
	"context"
	"encoding/json"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"torchside/storage"
	"torchside/storage/remote"
	"torchside/storage/vault"
	"torchside/storage/wire"
)

var plainAt = regexp.MustCompile(`sent on to HTTPS","address":"([^"]+)"`)

// A phone that types the bare name gets to the authority's page or, once it trusts, to HTTPS.
func TestServe_a_further_plain_port_sends_on_all_but_the_authority(t *testing.T) {
	s := start(t, "--addr", "127.0.0.1:0", "--plain-addr", "127.0.0.1:0", "--data", t.TempDir(), "--tls-local")
	waitFor(t, s.output, "sent on to HTTPS")
	plain := "http://" + plainAt.FindStringSubmatch(s.output.String())[1]
	client := clientTrusting(nil)
	resp, _ := fetch(t, client, plain+"/journal?tab=2", "")
	if to := resp.Header.Get("Location"); resp.StatusCode != http.StatusTemporaryRedirect || to != s.url+"/journal?tab=2" {
		t.Errorf("%d to %q, want %s", resp.StatusCode, to, s.url)
	}
	if resp, body := fetch(t, client, plain+"/ca", ""); resp.StatusCode != http.StatusOK || !strings.Contains(body, "torchside-ca.crt") {
		t.Errorf("/ca: %d", resp.StatusCode)
	}
	if resp, _ := fetch(t, client, plain+"/", "evil.example"); resp.StatusCode != http.StatusMisdirectedRequest {
		t.Errorf("a forged host: %d", resp.StatusCode)
	}
	if s.stop() != exitOK {
		t.Error("the server did not end well")
	}
}

// Without the further port the server still serves.
func TestServe_a_plain_port_in_use_is_logged_and_no_more(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	s := start(t, "--addr", "127.0.0.1:0", "--plain-addr", l.Addr().String(), "--data", t.TempDir(), "--tls-local")
	waitFor(t, s.output, "plain HTTP is not sent on")
	if s.stop() != exitOK {
		t.Error("the server did not end well")
	}
}

// The error stream is JSON lines without secrets; code and QR code go to the screen only.
func TestServe_logs_JSON_without_secrets(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	screen, log := &safeBuffer{}, &safeBuffer{}
	p := program{env: func(string) (string, bool) { return "", false }, stdout: screen, stderr: log, files: builtFiles(), open: openVault}
	ended := make(chan int, 1)
	folder := t.TempDir()
	go func() { ended <- p.run(ctx, []string{"--addr", "127.0.0.1:0", "--data", folder}) }()
	defer cancel()
	waitFor(t, screen, "Code for one device")
	url, code := announced.FindStringSubmatch(screen.String())[1], shownCode(t, screen.String())
	joined, err := remote.Pair(t.Context(), url, code, "My phone")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := remote.New(url, joined.Token).Sync(t.Context(), wire.SyncRequest{Dev: "01890000-0000-7000-8000-000000000000", Since: storage.Checkpoint{}}); err != nil {
		t.Fatal(err)
	}
	door, err := readDoor(folder + "/" + ownerFile)
	if err != nil {
		t.Fatal(err)
	}
	cancel()
	if code := <-ended; code != exitOK {
		t.Errorf("exit code %d", code)
	}
	for _, line := range strings.Split(strings.TrimSpace(log.String()), "\n") {
		if !json.Valid([]byte(line)) {
			t.Errorf("not JSON: %q", line)
		}
	}
	if !strings.Contains(log.String(), `"route":"POST /sync"`) {
		t.Errorf("requests are not logged: %s", log)
	}
	for _, secret := range []string{joined.Token, code, strings.ReplaceAll(code, " ", ""), door.Secret, "My phone"} {
		if strings.Contains(log.String(), secret) {
			t.Errorf("the log holds %q", secret)
		}
	}
	if strings.Contains(screen.String(), joined.Token) || strings.Contains(screen.String(), door.Secret) {
		t.Error("the screen shows a token")
	}
	v, err := openVault(folder)
	if err != nil {
		t.Fatalf("the vault was not closed: %v", err)
	}
	_ = v.Close()
}

func TestParseOptions_metrics_and_plain_address(t *testing.T) {
	none := func(string) (string, bool) { return "", false }
	for line, want := range map[string]string{
		"--data d": "", "--data d --tls-local": "", "--data d --tls-local --addr :443": ":80",
		"--data d --tls-acme shop.example": ":80", "--data d --tls-acme shop.example --plain-addr off": "off",
		"--data d --addr :443": "",
	} {
		o, err := parseOptions(strings.Fields(line), none, nil)
		if err != nil || o.plain != want {
			t.Errorf("%s: plain HTTP at %q (%v), want %q", line, o.plain, err, want)
		}
	}
	if _, err := parseOptions([]string{"--data", "d", "--metrics", "everybody"}, none, nil); err == nil || !strings.Contains(err.Error(), "everybody") {
		t.Errorf("got %v", err)
	}
}

// A vault that takes no more codes, as after many starts in ten minutes, still serves.
func TestServe_starts_also_when_no_first_code_can_be_made(t *testing.T) {
	folder := t.TempDir()
	v, err := openVault(folder)
	if err != nil {
		t.Fatal(err)
	}
	shop, err := v.CreateShop(t.Context(), firstShop, time.Now())
	if err != nil {
		t.Fatal(err)
	}
	for i := range vault.MaxCodes {
		c := vault.Code{Hash: vault.SecretHash{byte(i)}, Shop: shop.ID, Expires: time.Now().Add(time.Hour)}
		if err := v.AddCode(t.Context(), c, time.Now()); err != nil {
			t.Fatal(err)
		}
	}
	if err := v.Close(); err != nil {
		t.Fatal(err)
	}
	s := start(t, "--addr", "127.0.0.1:0", "--data", folder)
	waitFor(t, s.output, "No code could be made for a first device")
	waitFor(t, s.output, "32 codes of the shop are open")
	if resp, body := fetch(t, http.DefaultClient, s.url+"/healthz", ""); resp.StatusCode != http.StatusOK {
		t.Errorf("healthz: %d %s", resp.StatusCode, body)
	}
	if code := s.stop(); code != exitOK {
		t.Errorf("exit code %d: %s", code, s.output)
	}
}

// So it is on a full disk: the file that names the owner's port cannot be written.
func TestServe_starts_also_without_a_port_for_the_owner(t *testing.T) {
	folder := t.TempDir()
	if err := os.MkdirAll(filepath.Join(folder, ownerFile, "in the way"), 0o700); err != nil {
		t.Fatal(err)
	}
	s := start(t, "--addr", "127.0.0.1:0", "--data", folder)
	waitFor(t, s.output, "must wait until the server is stopped")
	waitFor(t, s.output, "Code for one device")
	if _, err := remote.Pair(t.Context(), s.url, shownCode(t, s.output.String()), "Phone"); err != nil {
		t.Error(err)
	}
	if code := s.stop(); code != exitOK {
		t.Errorf("exit code %d: %s", code, s.output)
	}
}
