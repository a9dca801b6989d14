//go:build browser

package browsertest

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"sync"
	"testing"

	"github.com/chromedp/chromedp"
)

// Run runs the tests of a package and ends the browser they shared. Use it as the whole of TestMain.
func Run(m *testing.M) {
	code := m.Run()
	closeBrowser()
	os.Exit(code)
}

var (
	closeBrowser = func() {}
	// browser starts the one browser of this test program when it is first needed.
	browser = sync.OnceValues(startBrowser)
)

func startBrowser() (context.Context, error) {
	path, err := findBrowser()
	if err != nil {
		return nil, err
	}
	profile, err := os.MkdirTemp("", "torchside-browser-")
	if err != nil {
		return nil, err
	}
	allocator, end := chromedp.NewExecAllocator(context.Background(), flags(path, profile)...)
	ctx, cancel := chromedp.NewContext(allocator)
	closeBrowser = func() {
		err := within("the browser to end", func() error {
			cancel()
			end()
			return os.RemoveAll(profile)
		})
		if err != nil { // what is left of it fails nothing
			fmt.Fprintln(os.Stderr, err)
		}
	}
	if err := within(path+" to start", func() error { return chromedp.Do(ctx) }); err != nil {
		return nil, err
	}
	return ctx, nil
}

// findBrowser returns the browser named by CHROME, or the first known one on PATH.
func findBrowser() (string, error) {
	if path := os.Getenv("CHROME"); path != "" {
		return path, nil
	}
	for _, name := range []string{"chromium", "google-chrome", "chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path, nil
		}
	}
	return "", errors.New("no browser: set CHROME, or put chromium on PATH")
}

// flags keep the browser quiet, and blind for every machine but this one: a request that goes elsewhere fails at once.
func flags(path, profile string) []chromedp.ExecAllocatorOption {
	list := append([]chromedp.ExecAllocatorOption{}, chromedp.DefaultExecAllocatorOptions[:]...)
	list = append(list,
		chromedp.ExecPath(path),
		chromedp.UserDataDir(profile),
		chromedp.DisableGPU,
		chromedp.Flag("disable-quic", true),
		chromedp.Flag("disable-component-update", true),
		chromedp.Flag("hide-scrollbars", true),
		chromedp.Flag("lang", "en-US"),
		chromedp.Flag("host-resolver-rules", "MAP * ~NOTFOUND, EXCLUDE 127.0.0.1"),
	)
	if os.Geteuid() == 0 {
		list = append(list, chromedp.NoSandbox) // root may not use it
	}
	return list
}
