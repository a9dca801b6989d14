package main

import (
	"io"
	"path/filepath"
	"testing"
)

// env is an environment for tests.
func env(pairs ...string) func(string) (string, bool) {
	return func(name string) (string, bool) {
		for i := 0; i < len(pairs); i += 2 {
			if pairs[i] == name {
				return pairs[i+1], true
			}
		}
		return "", false
	}
}

func TestParseOptions_flags_before_environment_before_defaults(t *testing.T) {
	surroundings := env("TORCHSIDE_ADDR", "env:1", "TORCHSIDE_DATA", "/env", "TORCHSIDE_TLS_LOCAL", "true")
	o, err := parseOptions([]string{"--addr", "flag:2"}, surroundings, io.Discard)
	if err != nil {
		t.Fatal(err)
	}
	if o.addr != "flag:2" || o.data != "/env" || !o.tlsLocal {
		t.Errorf("got %+v", o)
	}
}

func TestParseOptions_default_address_depends_on_TLS(t *testing.T) {
	for _, c := range []struct {
		args []string
		want string
	}{
		{nil, "localhost:8080"},
		{[]string{"--tls-local"}, ":8443"},
		{[]string{"--tls-cert", "c", "--tls-key", "k"}, ":8443"},
		{[]string{"--tls-acme", "shop.example"}, ":443"},
	} {
		o, err := parseOptions(append(c.args, "--data", "/d"), env(), io.Discard)
		if err != nil || o.addr != c.want {
			t.Errorf("%v: got %q, %v, want %q", c.args, o.addr, err, c.want)
		}
	}
}

func TestDefaultDataFolder_follows_the_base_directory_rules(t *testing.T) {
	for _, c := range []struct {
		env  func(string) (string, bool)
		want string
	}{
		{env("HOME", "/home/a"), "/home/a/.local/share/torchside"},
		{env("HOME", "/home/a", "XDG_DATA_HOME", "/data"), "/data/torchside"},
		{env("HOME", "/home/a", "XDG_DATA_HOME", "relative"), "/home/a/.local/share/torchside"}, // to be ignored, says the specification
	} {
		if got, err := defaultDataFolder("linux", c.env); err != nil || got != filepath.FromSlash(c.want) {
			t.Errorf("got %q, %v, want %q", got, err, c.want)
		}
	}
	if got, err := defaultDataFolder("linux", env("HOME", "")); err == nil {
		t.Errorf("without a home: got %q, want an error", got)
	}
}
