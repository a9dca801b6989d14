//go:build browser

package browsertest

import (
	"bytes"
	"context"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"syscall"
	"testing"
)

// Server is the real program, serving on a free port of this machine.
type Server struct {
	t      testing.TB
	addr   string
	data   string
	flags  []string // further ones of serve
	cmd    *exec.Cmd
	output *safeBuffer
}

// NewServer starts the program with an empty data folder and perhaps further flags; it is stopped at the end of the test.
func NewServer(t testing.TB, flags ...string) *Server {
	t.Helper()
	s := &Server{t: t, addr: freeAddress(t), data: t.TempDir(), flags: flags, output: &safeBuffer{}}
	t.Cleanup(s.Stop)
	s.Start()
	return s
}

// Binary returns the path of the program under test: TORCHSIDE_BIN, or what make build makes.
func Binary(t testing.TB) string {
	t.Helper()
	path := os.Getenv("TORCHSIDE_BIN")
	if path == "" {
		path = filepath.Join("..", "..", "bin", "torchside")
	}
	path, err := filepath.Abs(path)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(path); err != nil {
		t.Fatalf("there is no program to test: run make build first (%v)", err)
	}
	return path
}

// Origin is the scheme, host and port the app is served from.
func (s *Server) Origin() string { return "http://" + s.addr }

// Start starts the program again after Stop, with the same address and data.
func (s *Server) Start() {
	s.t.Helper()
	s.cmd = exec.Command(Binary(s.t), append([]string{"serve", "--addr", s.addr, "--data", s.data}, s.flags...)...)
	s.cmd.Stdout, s.cmd.Stderr = s.output, s.output
	if err := s.cmd.Start(); err != nil {
		s.t.Fatal(err)
	}
	waitFor(s.t, "the server answers", func() bool {
		answer, err := asking.Get(s.Origin() + "/")
		if err != nil {
			return false
		}
		answer.Body.Close()
		return answer.StatusCode == http.StatusOK
	}, s.output.String)
}

// Stop ends the program and returns when nothing listens any more. One that does not end when asked fails the test.
func (s *Server) Stop() {
	if s.cmd == nil {
		return
	}
	_ = s.cmd.Process.Signal(syscall.SIGTERM) // fails only when it has ended already
	err := within("the server to end", func() error {
		_ = s.cmd.Wait() // how it ended is no matter of a journey
		return nil
	})
	if err != nil {
		_ = s.cmd.Process.Kill()
		s.t.Errorf("%v\n%s", err, s.output)
	}
	s.cmd = nil
}

// Compute asks the same program on the command line and returns its answer to one question.
func Compute(t testing.TB, topic string, question []byte) []byte {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	cmd := exec.CommandContext(ctx, Binary(t), "compute", topic)
	cmd.Stdin = bytes.NewReader(question)
	var complaint bytes.Buffer
	cmd.Stderr = &complaint
	answer, err := cmd.Output()
	if err != nil {
		t.Fatalf("compute %s: %v: %s", topic, err, complaint.String())
	}
	return answer
}

// freeAddress finds a port that nobody listens on.
func freeAddress(t testing.TB) string {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	return l.Addr().String()
}

// safeBuffer is a buffer that the program writes while the test reads.
type safeBuffer struct {
	mu  sync.Mutex
	buf bytes.Buffer
}

// Write appends.
func (b *safeBuffer) Write(p []byte) (int, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.buf.Write(p)
}

// String returns everything written so far.
func (b *safeBuffer) String() string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.buf.String()
}
