package main

import (
	"bytes"
	"context"
	"crypto/rand"
	"crypto/subtle"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"time"
)

// A running server holds the vault's lock, so the command line asks the server. It listens on a
// loopback port of its own and writes where, with a secret made at each start, into a file that
// only the account of the server can read: who can read that file can read the vault beside it as
// well. A port and a file work on every system; a Unix socket would not, and its path may have no
// more than about a hundred characters.
const ownerFile = "owner.json"

// ownerDoor is the content of that file.
type ownerDoor struct {
	Address string `json:"address"`
	Secret  string `json:"secret"`
}

const (
	ownerPath = "/owner"
	ownerMax  = 16 << 10 // bytes of a request
	ownerWait = 30 * time.Second
)

// ownerPort is the server's end.
type ownerPort struct {
	srv  *http.Server
	path string
}

// openOwnerPort listens for the command line until close.
func (p program) openOwnerPort(folder string, o owner) (*ownerPort, error) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return nil, fmt.Errorf("the port for \"torchside pair\" and the like cannot be opened: %w", err)
	}
	door := ownerDoor{Address: l.Addr().String(), Secret: rand.Text()}
	port := &ownerPort{srv: p.newServer(ownerHandler(door, o), nil), path: filepath.Join(folder, ownerFile)}
	if err := door.write(port.path); err != nil {
		return nil, errors.Join(err, l.Close())
	}
	go func() { _ = port.srv.Serve(l) }() // it ends with close
	return port, nil
}

// tryOwnerPort gives nil where the port cannot be opened, as on a full disk: phones are still served.
func (p program) tryOwnerPort(folder string, o owner) *ownerPort {
	port, err := p.openOwnerPort(folder, o)
	if err != nil {
		p.logger().Error("commands as \"torchside pair\" must wait until the server is stopped", "cause", err.Error())
	}
	return port
}

func (o *ownerPort) close() error {
	if o == nil {
		return nil
	}
	return errors.Join(o.srv.Close(), os.Remove(o.path))
}

// write stores the file for the account of the server alone, also over an old one with other rights.
func (d ownerDoor) write(path string) error {
	text, err := json.Marshal(d)
	if err != nil {
		return err
	}
	if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return os.WriteFile(path, text, 0o600)
}

// ownerHandler answers who knows the secret. The Host must be the address itself, so that no page
// in a browser on this machine gets here by another name.
func ownerHandler(door ownerDoor, o owner) http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("POST "+ownerPath, func(w http.ResponseWriter, r *http.Request) {
		given := []byte(r.Header.Get("Authorization"))
		if r.Host != door.Address || subtle.ConstantTimeCompare(given, []byte("Bearer "+door.Secret)) != 1 {
			http.Error(w, "not for you", http.StatusForbidden)
			return
		}
		var q ownerRequest
		if err := json.NewDecoder(http.MaxBytesReader(w, r.Body, ownerMax)).Decode(&q); err != nil {
			http.Error(w, err.Error(), http.StatusBadRequest)
			return
		}
		c := http.NewResponseController(w) // a backup may take longer than a request from outside
		if err := errors.Join(c.SetReadDeadline(time.Time{}), c.SetWriteDeadline(time.Time{})); err != nil {
			http.Error(w, err.Error(), http.StatusInternalServerError)
			return
		}
		reply, err := o.do(r.Context(), q)
		if err != nil {
			http.Error(w, err.Error(), http.StatusUnprocessableEntity)
			return
		}
		w.Header().Set("Content-Type", "application/json")
		_ = json.NewEncoder(w).Encode(reply) // a caller that has gone cannot be told
	})
	return mux
}

// errNoServer: no server runs on this data folder.
var errNoServer = errors.New("no server is running")

// askServer asks the server that runs on a data folder.
func askServer(ctx context.Context, folder string, q ownerRequest) (ownerReply, error) {
	door, err := readDoor(filepath.Join(folder, ownerFile))
	if err != nil {
		return ownerReply{}, err
	}
	body, err := json.Marshal(q)
	if err != nil {
		return ownerReply{}, err
	}
	wait := ownerWait
	if q.Do == "backup" || q.Do == "trim history" { // which waits for a backup
		wait = backupWait
	}
	ctx, cancel := context.WithTimeout(ctx, wait)
	defer cancel()
	r, err := http.NewRequestWithContext(ctx, http.MethodPost, "http://"+door.Address+ownerPath, bytes.NewReader(body))
	if err != nil {
		return ownerReply{}, err
	}
	r.Header.Set("Authorization", "Bearer "+door.Secret)
	resp, err := http.DefaultClient.Do(r)
	if err != nil {
		return ownerReply{}, fmt.Errorf("%w: %w", errNoServer, err)
	}
	defer resp.Body.Close()
	return readReply(resp)
}

func readDoor(path string) (door ownerDoor, err error) {
	text, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return door, errNoServer
	}
	if err != nil {
		return door, err
	}
	if err := json.Unmarshal(text, &door); err != nil {
		return door, fmt.Errorf("%w: %s is damaged", errNoServer, path)
	}
	return door, nil
}

func readReply(resp *http.Response) (reply ownerReply, err error) {
	switch resp.StatusCode {
	case http.StatusOK:
		return reply, json.NewDecoder(resp.Body).Decode(&reply)
	case http.StatusUnprocessableEntity:
		text, err := io.ReadAll(resp.Body)
		if err != nil {
			return reply, err
		}
		return reply, errors.New(string(bytes.TrimSpace(text)))
	}
	// The port of a server that was killed may belong to another program by now.
	return reply, fmt.Errorf("%w: another program answers at its port", errNoServer)
}

// askOwner asks the running server, or the vault itself if none runs.
func (p program) askOwner(ctx context.Context, folder string, q ownerRequest) (ownerReply, error) {
	reply, err := askServer(ctx, folder, q)
	if !errors.Is(err, errNoServer) {
		return reply, err
	}
	v, err := p.open(folder)
	if err != nil {
		return ownerReply{}, err
	}
	reply, err = owner{vault: v, now: time.Now}.do(ctx, q)
	return reply, errors.Join(err, v.Close())
}
