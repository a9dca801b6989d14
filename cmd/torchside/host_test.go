package main

import (
	"os"
	"strings"
	"testing"
)

func TestHosts_allows_own_names_and_addresses_only(t *testing.T) {
	h := newHosts("Shop.Example", "10.99.99.99")
	own, err := os.Hostname()
	if err != nil {
		t.Fatal(err)
	}
	for host, want := range map[string]bool{
		"localhost":              true,
		"localhost:8080":         true,
		"LOCALHOST.":             true,
		"127.0.0.1:8080":         true,
		"127.8.9.10":             true,
		"[::1]:8080":             true,
		"[::1]":                  true,
		own:                      true,
		own + ".local:8443":      true,
		"shop.example":           true,
		"SHOP.example:443":       true,
		"10.99.99.99:8080":       true,
		"":                       false,
		":8080":                  false,
		"evil.example":           false,
		"localhost.evil.example": false,
		"shop.example.evil":      false,
		"8.8.8.8":                false,
		"0.0.0.0:8080":           false,
		"[2001:db8::1]:8080":     false,
	} {
		if got := h.allows(host); got != want {
			t.Errorf("%q: got %v, want %v", host, got, want)
		}
	}
	for _, a := range ownAddrs() {
		if !h.allows(a.String()) || !h.allows("["+a.String()+"]:8080") && strings.Contains(a.String(), ":") {
			t.Errorf("own address %s is refused", a)
		}
	}
}
