package main

import (
	"bytes"
	"errors"
	"io/fs"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"testing"

	"torchside/storage/remote"
	"torchside/storage/wire"
)

// ownerLine runs another torchside on the same data folder, as a person at the machine does.
func ownerLine(t testing.TB, folder string, args ...string) (output string, code int) {
	t.Helper()
	var out bytes.Buffer
	p := program{env: func(string) (string, bool) { return "", false }, stdout: &out, stderr: &out, files: builtFiles(), open: openVault}
	code = p.run(t.Context(), append(args, "--data", folder))
	return out.String(), code
}

var codeShown = regexp.MustCompile(`Code for one device of "([^"]*)".*: (\d{4} \d{4})\n`)

func shownCode(t testing.TB, output string) string {
	t.Helper()
	m := codeShown.FindStringSubmatch(output)
	if m == nil {
		t.Fatalf("no code in %q", output)
	}
	return m[2]
}

// The whole way in: the first start shows a code, a device joins, the owner sees, renames and puts
// it out while the server runs.
func TestServe_first_start_shows_a_code_and_the_owner_manages_devices_meanwhile(t *testing.T) {
	folder := t.TempDir()
	s := start(t, "--addr", "127.0.0.1:0", "--data", folder)
	waitFor(t, s.output, "Code for one device")
	if link := s.url + "/#" + wire.JoinFragment; !strings.Contains(s.output.String(), link) {
		t.Errorf("no link for this computer: %s", s.output)
	}
	joined, err := remote.Pair(t.Context(), s.url, shownCode(t, s.output.String()), "Phone")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := remote.Pair(t.Context(), s.url, shownCode(t, s.output.String()), "Thief"); err == nil {
		t.Error("the code worked twice")
	}
	phone := remote.New(s.url, joined.Token)
	if out, code := ownerLine(t, folder, "devices", "rename", "Phone", "Bench phone"); code != exitOK {
		t.Fatalf("%d: %s", code, out)
	}
	if out, _ := ownerLine(t, folder, "devices"); !strings.Contains(out, "Bench phone") || !strings.Contains(out, "let in") {
		t.Errorf("listed as %s", out)
	}
	if _, err := phone.Devices(t.Context()); err != nil {
		t.Fatal(err)
	}
	if out, code := ownerLine(t, folder, "devices", "revoke", "Bench phone"); code != exitOK {
		t.Fatalf("%d: %s", code, out)
	}
	if _, err := phone.Devices(t.Context()); !errors.Is(err, &wire.Error{Code: wire.CodeRevoked}) {
		t.Errorf("put out, it gets %v", err)
	}
	if out, _ := ownerLine(t, folder, "audit"); !strings.Contains(out, "device revoked") || !strings.Contains(out, "device joined") {
		t.Errorf("audit: %s", out)
	}
}

// What a phone can reach is drawn for its camera; what it cannot is not.
func TestPrintCode_draws_only_an_address_that_phones_can_use(t *testing.T) {
	for origin, want := range map[string]string{
		"https://192.168.1.5:8443": "█", "https://shop.lan:8443": "█", "http://localhost:8080": "http://localhost:8080/#join=12345678",
		"https://localhost:8443": "--tls-local", "https://[::1]:8443": "--tls-local", "http://192.168.1.5:8080": "keeps nothing", "": "No server is running",
	} {
		var out bytes.Buffer
		if err := (program{stdout: &out}).printCode(ownerReply{Origin: origin, Code: "12345678"}); err != nil {
			t.Fatal(err)
		}
		if text := out.String(); !strings.Contains(text, want) || strings.Contains(text, "█") != (want == "█") || !strings.Contains(text, "1234 5678") {
			t.Errorf("%s: %s", origin, text)
		}
	}
	s := start(t, "--addr", "127.0.0.1:0", "--data", t.TempDir(), "--tls-local", "--names", "shop.lan")
	waitFor(t, s.output, "open https://shop.lan:")
}

func TestShop_several_shops_each_with_their_devices(t *testing.T) {
	folder := t.TempDir()
	s := start(t, "--addr", "127.0.0.1:0", "--data", folder)
	if out, code := ownerLine(t, folder, "shop", "add", "Club"); code != exitOK {
		t.Fatal(out)
	}
	if out, code := ownerLine(t, folder, "pair"); code != exitFailed || !strings.Contains(out, `"My shop", "Club"`) {
		t.Errorf("which shop? %d %s", code, out)
	}
	if out, code := ownerLine(t, folder, "pair", "--shop", "Clab"); code != exitFailed || !strings.Contains(out, `no shop "Clab"`) {
		t.Errorf("%d %s", code, out)
	}
	out, code := ownerLine(t, folder, "pair", "--shop", "Club")
	if code != exitOK || !strings.Contains(out, s.url) {
		t.Fatalf("%d %s", code, out)
	}
	joined, err := remote.Pair(t.Context(), s.url, shownCode(t, out), "Tablet")
	if err != nil || joined.Shop.Name != "Club" {
		t.Fatalf("%+v, %v", joined, err)
	}
	if out, _ := ownerLine(t, folder, "devices", "--shop", "My shop"); strings.Contains(out, "Tablet") {
		t.Errorf("in the other shop too: %s", out)
	}
	if out, code := ownerLine(t, folder, "shop", "rename", "Club", "Metal club"); code != exitOK {
		t.Error(out)
	}
	if out, _ := ownerLine(t, folder, "shop"); !strings.Contains(out, "Metal club") || !strings.Contains(out, "My shop") {
		t.Errorf("shops: %s", out)
	}
}

// The file beside the vault opens the owner's port: for the account of the server alone, and only
// while it runs.
func TestOwnerPort_is_closed_to_all_but_the_account_of_the_server(t *testing.T) {
	folder := t.TempDir()
	s := start(t, "--addr", "127.0.0.1:0", "--data", folder)
	path := filepath.Join(folder, ownerFile)
	info, err := os.Stat(path)
	if err != nil || runtime.GOOS != "windows" && info.Mode().Perm() != 0o600 {
		t.Fatalf("%v, %v", info, err)
	}
	door, err := readDoor(path)
	if err != nil || !strings.HasPrefix(door.Address, "127.0.0.1:") {
		t.Fatalf("%+v, %v", door, err)
	}
	for name, spoil := range map[string]func(*http.Request){
		"no secret":    func(r *http.Request) { r.Header.Del("Authorization") },
		"wrong secret": func(r *http.Request) { r.Header.Set("Authorization", "Bearer "+strings.Repeat("A", len(door.Secret))) },
		"another name": func(r *http.Request) { r.Host = "rebound.example" },
		"nothing":      func(*http.Request) {},
	} {
		r, err := http.NewRequest(http.MethodPost, "http://"+door.Address+ownerPath, strings.NewReader(`{"do":"shops"}`))
		if err != nil {
			t.Fatal(err)
		}
		r.Header.Set("Authorization", "Bearer "+door.Secret)
		spoil(r)
		resp, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		_ = resp.Body.Close()
		if open := resp.StatusCode == http.StatusOK; open != (name == "nothing") {
			t.Errorf("%s: %d", name, resp.StatusCode)
		}
	}
	if resp, _ := fetch(t, http.DefaultClient, s.url+ownerPath, ""); resp.StatusCode == http.StatusOK {
		t.Error("the owner's port answers at the address of the app too")
	}
	if s.stop() != exitOK {
		t.Error("the server did not end well")
	}
	if _, err := os.Stat(path); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("the file is left behind: %v", err)
	}
}

// After a crash the file is still there, and another program may have the port.
func TestPair_without_a_server_opens_the_vault_itself_whatever_a_crash_left(t *testing.T) {
	other := startPlain(t)
	for name, left := range map[string]string{
		"nothing":           "",
		"a closed port":     `{"address":"127.0.0.1:1","secret":"x"}`,
		"another's port":    `{"address":"` + strings.TrimPrefix(other.url, "http://") + `","secret":"x"}`,
		"a damaged file":    `{"addr`,
		"an empty document": `{}`,
	} {
		folder := t.TempDir()
		if left != "" {
			if err := os.WriteFile(filepath.Join(folder, ownerFile), []byte(left), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		if out, code := ownerLine(t, folder, "pair"); code != exitFailed || !strings.Contains(out, "no shop yet") {
			t.Errorf("%s: %d %s", name, code, out)
		}
		if out, code := ownerLine(t, folder, "shop", "add", "Shop"); code != exitOK {
			t.Errorf("%s: %d %s", name, code, out)
		}
	}
}

func TestServe_health_and_metrics_tell_strangers_nothing(t *testing.T) {
	s := startPlain(t)
	if resp, body := fetch(t, http.DefaultClient, s.url+"/healthz", ""); resp.StatusCode != http.StatusOK || body != "ok\n" {
		t.Errorf("healthz: %d %s", resp.StatusCode, body)
	}
	resp, body := fetch(t, http.DefaultClient, s.url+"/metrics", "")
	if resp.StatusCode != http.StatusOK || !strings.Contains(body, "\ntorchside_shops 1\n") {
		t.Errorf("metrics: %d %s", resp.StatusCode, body)
	}
	for header, want := range map[string]bool{"": true, "X-Forwarded-For": false, "Forwarded": false} {
		r, _ := http.NewRequest(http.MethodGet, s.url+"/metrics", nil)
		r.RemoteAddr = "127.0.0.1:5"
		if header != "" {
			r.Header.Set(header, "192.0.2.1")
		}
		if fromHere(r) != want {
			t.Errorf("with %q: %v", header, !want)
		}
		r.RemoteAddr = "192.0.2.1:5"
		if fromHere(r) {
			t.Error("an outside address passes for this machine")
		}
	}
	off := start(t, "--addr", "127.0.0.1:0", "--data", t.TempDir(), "--metrics", "off")
	if resp, _ := fetch(t, http.DefaultClient, off.url+"/metrics", ""); resp.StatusCode != http.StatusNotFound {
		t.Errorf("off: %d", resp.StatusCode)
	}
}

// The protocol is beside the app's files, so the framework's version tag cannot turn an answer
// into "not modified".
func TestServe_the_protocol_never_answers_not_modified(t *testing.T) {
	s := startPlain(t)
	for _, tag := range []string{`"v-test"`, `v-test`, `*`} {
		r, _ := http.NewRequest(http.MethodGet, s.url+wire.Prefix+wire.PathDevices, nil)
		r.Header.Set("If-None-Match", tag)
		resp, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		_ = resp.Body.Close()
		if resp.StatusCode != http.StatusUnauthorized {
			t.Errorf("%s: %d", tag, resp.StatusCode)
		}
	}
}

func TestLimitConns_one_address_cannot_take_all_connections(t *testing.T) {
	l := limitConns(nil)
	for i := range maxConnsAddress {
		if !l.enter("192.0.2.1") {
			t.Fatalf("refused at %d", i)
		}
	}
	if l.enter("192.0.2.1") || !l.enter("192.0.2.2") {
		t.Error("the limit of one address is not its own")
	}
	l.leave("192.0.2.1")
	if !l.enter("192.0.2.1") {
		t.Error("a place that was left stays taken")
	}
}

func TestOptions_strict_transport_only_where_no_phone_is_shut_out(t *testing.T) {
	for _, c := range []struct {
		o    options
		want bool
	}{
		{options{tlsACME: "shop.example", addr: ":443"}, true},
		{options{tlsACME: "shop.example", addr: ":8443"}, false},
		{options{tlsLocal: true, addr: ":443"}, false},
		{options{tlsCert: "c", tlsKey: "k", addr: ":443"}, false},
		{options{addr: "localhost:8080"}, false},
	} {
		out := httptest.NewRecorder()
		c.o.strict(http.NotFoundHandler()).ServeHTTP(out, &http.Request{Header: http.Header{}})
		if got := out.Header().Get("Strict-Transport-Security") != ""; got != c.want {
			t.Errorf("%+v: %v", c.o, got)
		}
	}
}
