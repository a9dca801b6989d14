package main

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

//go:embed page.html
var page []byte

// program is what the page is to run the wasm file with.
type program struct {
	Argv  []string          `json:"argv"`
	Env   map[string]string `json:"env"`
	Given string            `json:"given"` // for the test, too long for a variable
}

// site serves one program on a loopback port. Its address stays the same for
// all runs: browser storage belongs to an address.
type site struct {
	url     string
	program program
	slow    float64 // how many times slower than this machine the page runs; 0 and 1: not at all
	server  *http.Server
}

// serve starts a site for a wasm file.
func serve(wasm string) (*site, error) {
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return nil, fmt.Errorf("find GOROOT: %w", err)
	}
	support, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "wasm_exec.js"))
	if err != nil {
		return nil, err
	}
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return nil, err
	}
	s := &site{url: "http://" + listener.Addr().String() + "/"}
	mux := http.NewServeMux()
	mux.HandleFunc("GET /{$}", func(w http.ResponseWriter, _ *http.Request) { send(w, "text/html", page) })
	mux.HandleFunc("GET /support.js", func(w http.ResponseWriter, _ *http.Request) { send(w, "text/javascript", support) })
	mux.HandleFunc("GET /program.json", s.sendProgram)
	mux.HandleFunc("GET /program.wasm", func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "application/wasm")
		http.ServeFile(w, r, wasm)
	})
	s.server = &http.Server{Handler: mux, ReadHeaderTimeout: 10 * time.Second}
	go s.server.Serve(listener) //nolint:errcheck // ends with ErrServerClosed
	return s, nil
}

func (s *site) sendProgram(w http.ResponseWriter, _ *http.Request) {
	text, err := json.Marshal(s.program)
	if err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	send(w, "application/json", text)
}

func send(w http.ResponseWriter, kind string, body []byte) {
	w.Header().Set("Content-Type", kind)
	w.Write(body) //nolint:errcheck // the browser has gone; the run fails by itself
}

func (s *site) close() { s.server.Close() }
