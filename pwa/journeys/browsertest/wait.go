//go:build browser

package browsertest

import (
	"fmt"
	"net/http"
	"testing"
	"time"
)

// patience is how long anything may take before a journey gives up. It decides nothing but when a broken app is reported.
const patience = 20 * time.Second

// stalled is how long a browser may leave a single command without an answer: far more, since on a busy machine it may have to
// draw a long page first.
const stalled = 3 * patience

// asking is the client of a journey's own questions to its server.
var asking = &http.Client{Timeout: patience}

// waitFor asks again and again until ok, and ends the test with what it is waiting for and the details when it never is.
func waitFor(t testing.TB, what string, ok func() bool, details func() string) {
	t.Helper()
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if ok() {
			return
		}
	}
	t.Fatalf("waited in vain until %s\n%s", what, details())
}

// within does something that may never end, such as a question to a browser that has stalled, and gives up on it after a while
// with the name of what was waited for.
func within(what string, do func() error) error {
	done := make(chan error, 1)
	go func() { done <- do() }()
	select {
	case err := <-done:
		if err != nil {
			return fmt.Errorf("%s: %w", what, err)
		}
		return nil
	case <-time.After(stalled):
		return fmt.Errorf("waited in vain for %s", what)
	}
}
