//go:build browser

package browsertest

import (
	"context"
	"fmt"
	"os"
	"sync"
	"testing"

	"github.com/chromedp/chromedp"

	"torchside/pwa/journeys/chrome"
)

// Run runs the tests of a package and ends the browser they shared. Use it as the whole of TestMain.
func Run(m *testing.M) {
	code := m.Run()
	closeBrowser()
	if n := looks.Load(); n > 0 {
		fmt.Printf("axe looked at a page %d times\n", n)
	}
	os.Exit(code)
}

var (
	closeBrowser = func() {}
	// browser starts the one browser of this test program when it is first needed.
	browser = sync.OnceValues(startBrowser)
)

func startBrowser() (context.Context, error) {
	path, err := chrome.Find()
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

// flags keep the browser quiet, and blind for every machine but this one: a request that goes elsewhere fails at once.
func flags(path, profile string) []chromedp.ExecAllocatorOption {
	return append(chrome.Options(path, profile),
		chromedp.DisableGPU,
		chromedp.Flag("disable-quic", true),
		chromedp.Flag("disable-component-update", true),
		chromedp.Flag("hide-scrollbars", true),
		chromedp.Flag("lang", "en-US"),
		chromedp.Flag("host-resolver-rules", "MAP * ~NOTFOUND, EXCLUDE 127.0.0.1"),
	)
}
