// Command wasmrun runs a Go program compiled for GOOS=js in a real browser and
// relays its output and exit code, so that it can stand as `go test -exec`:
//
//	GOOS=js GOARCH=wasm go test -exec "wasmrun" ./storage/idb/
//
// With -kill N the program must be a test binary with a test of that kind: the
// browser is killed at once after the program reported some writes as saved,
// started again on the same profile, and the program is asked whether they are
// all there; N times over. With -busy the program goes on writing while the
// browser is killed.
//
// With -slow N the page gets one N-th of the processor, as the throttle of a browser's
// own tools does it.
//
// The browser is the one named by $CHROME, else the first of chromium,
// google-chrome and chrome on PATH. Each run has a profile of its own, which
// is removed afterwards.
package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"os/signal"
	"time"
)

// limit ends a run that hangs; go test has its own, shorter limits.
const limit = 15 * time.Minute

func main() {
	kills := flag.Int("kill", 0, "kill the browser `N` times right after a write was reported as saved")
	busy := flag.Bool("busy", false, "with -kill: kill the browser in the middle of further writes")
	slow := flag.Float64("slow", 1, "let the page run so many `times` slower, as a slower phone does")
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	ctx, cancel := context.WithTimeout(ctx, limit)
	code, err := run(ctx, flag.Args(), *kills, *busy, *slow)
	cancel()
	stop()
	if err != nil {
		fmt.Fprintln(os.Stderr, "wasmrun:", err)
		code = 1
	}
	os.Exit(code)
}

// run serves the program, makes a profile, and runs the program in it.
func run(ctx context.Context, args []string, kills int, busy bool, slow float64) (int, error) {
	if len(args) < 1 {
		return 1, fmt.Errorf("no program given")
	}
	site, err := serve(args[0])
	if err != nil {
		return 1, err
	}
	defer site.close()
	profile, err := os.MkdirTemp("", "wasmrun")
	if err != nil {
		return 1, err
	}
	defer removeProfile(profile)
	if kills > 0 {
		return killRuns(ctx, site, profile, kills, busy)
	}
	site.program = program{Argv: args}
	site.slow = slow
	return play(ctx, site, profile, printed)
}

// removeProfile tries again for a moment: a killed browser's helpers may still
// be writing.
func removeProfile(dir string) {
	var err error
	for range 20 {
		if err = os.RemoveAll(dir); err == nil {
			return
		}
		time.Sleep(100 * time.Millisecond)
	}
	fmt.Fprintln(os.Stderr, "wasmrun: profile not removed:", err)
}

// printed passes the program's output on.
func printed(m message) verdict {
	switch m.Kind {
	case "stdout":
		fmt.Fprint(os.Stdout, m.Text)
	case "stderr":
		fmt.Fprint(os.Stderr, m.Text)
	}
	return goOn
}
