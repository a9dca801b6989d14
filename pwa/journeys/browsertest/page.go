//go:build browser

package browsertest

import (
	"context"
	_ "embed" // find.js
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// Page is one window.
type Page struct {
	t       testing.TB
	profile *Profile
	ctx     context.Context
	cancel  context.CancelFunc
	keys    bool // used with the keyboard alone
}

// For returns the same window, reporting to another test: a subtest that looks at it.
func (p *Page) For(t testing.TB) *Page {
	c := *p
	c.t = t
	return &c
}

// Go opens the path in this window and waits until the app runs.
func (p *Page) Go(path string) {
	p.t.Helper()
	p.GoRaw(path)
	p.WaitReady()
}

// GoRaw opens the path in this window and waits for nothing but the document.
func (p *Page) GoRaw(path string) {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, patience)
	defer cancel()
	if err := chromedp.Do(ctx, chromedp.Navigate(p.profile.site.Origin()+path)); err != nil {
		p.t.Fatalf("opening %s: %v", path, err)
	}
}

// Reload loads the document again and waits until the app runs.
func (p *Page) Reload() {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, patience)
	defer cancel()
	if err := chromedp.Do(ctx, chromedp.Reload()); err != nil {
		p.t.Fatalf("reloading: %v", err)
	}
	p.WaitReady()
}

// Path returns the address within the site, with its query.
func (p *Page) Path() string {
	p.t.Helper()
	return eval[string](p, `location.pathname + location.search`)
}

// ready is true once the program runs and has read its store: the loader is gone, the places stand, and the page is no longer
// "opening".
const ready = `!document.querySelector("#app-wasm-loader") && !!document.querySelector("[data-act=nav-setup]") && !document.querySelector("[data-val=opening]")`

// WaitReady waits until the app runs and has read its store.
func (p *Page) WaitReady() {
	p.t.Helper()
	p.Wait("the app runs", ready)
}

// Close closes the window like a person does.
func (p *Page) Close() {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(context.WithoutCancel(p.ctx), patience)
	defer cancel()
	if err := chromedp.Cancel(ctx); err != nil {
		p.t.Errorf("closing a window: %v", err)
	}
}

// Kill ends the process behind the window, mid-word if need be, and closes what is left of it.
func (p *Page) Kill() {
	p.t.Helper()
	p.profile.Expect("the page crashed")
	ctx, cancel := context.WithTimeout(p.ctx, time.Second)
	defer cancel()
	_, _ = chromedp.Call(ctx, page.Crash, cdp.Empty{}) // never answered: who should answer is gone
	p.cancel()
}

// Size makes the window w by h CSS pixels, on a phone, and waits until the page knows: a finger that comes down before that
// touches where the page was.
func (p *Page) Size(w, h int64) {
	p.t.Helper()
	must(p, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{Width: w, Height: h, DeviceScaleFactor: 2, Mobile: true})
	p.Wait("the window has its size", fmt.Sprintf("screen.width === %d && screen.height === %d", w, h))
}

// Prefers sets what the system is set to: "dark" or "light", and whether things may move.
func (p *Page) Prefers(scheme string, still bool) {
	p.t.Helper()
	motion := "no-preference"
	if still {
		motion = "reduce"
	}
	must(p, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{
		{Name: "prefers-color-scheme", Value: scheme}, {Name: "prefers-reduced-motion", Value: motion},
	}})
}

// SlowCPU makes the page run the given times slower; 1 is full speed.
func (p *Page) SlowCPU(times float64) {
	p.t.Helper()
	must(p, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: times})
}

// SlowNetwork adds delay to every request of the page and limits what comes in a second, in bytes; 0 bytes is no limit.
func (p *Page) SlowNetwork(delay time.Duration, bytes float64) {
	p.t.Helper()
	if bytes == 0 {
		bytes = -1
	}
	must(p, network.EmulateNetworkConditionsByRule, network.EmulateNetworkConditionsByRuleParams{MatchedNetworkConditions: []*network.Conditions{
		{Latency: float64(delay.Milliseconds()), DownloadThroughput: bytes, UploadThroughput: bytes},
	}})
}

// Shot writes what the window shows, the whole length of the page, to the folder TORCHSIDE_SHOTS names; without one it does
// nothing.
func (p *Page) Shot(name string) {
	p.t.Helper()
	folder := os.Getenv("TORCHSIDE_SHOTS")
	if folder == "" {
		return
	}
	var picture []byte
	err := within("a picture of the page", func() (err error) {
		picture, err = chromedp.Run(p.ctx, chromedp.FullScreenshot(100))
		return err
	})
	if err == nil {
		err = os.MkdirAll(folder, 0o755)
	}
	if err == nil {
		err = os.WriteFile(filepath.Join(folder, name+".png"), picture, 0o644)
	}
	if err != nil {
		p.t.Fatalf("screenshot %s: %v", name, err)
	}
}

func (p *Page) onNew(script string) {
	p.t.Helper()
	must(p, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: script})
}

// Wait waits until the expression is true in the page.
func (p *Page) Wait(what, expression string) {
	p.t.Helper()
	var last error
	waitFor(p.t, what, func() bool {
		var ok bool
		ok, last = tryEval[bool](p, "!!("+expression+")")
		return last == nil && ok
	}, func() string {
		if last != nil {
			return last.Error()
		}
		return "the page shows:\n" + p.shown() + "\nand its fields hold:\n" + p.held()
	})
}

// WaitLong is Wait for what takes minutes, as reading in a working life of sheets.
func (p *Page) WaitLong(what, expression string) {
	p.t.Helper()
	for end := time.Now().Add(20 * patience); time.Now().Before(end); time.Sleep(100 * time.Millisecond) {
		if ok, err := tryEval[bool](p, "!!("+expression+")"); err == nil && ok {
			return
		}
	}
	p.t.Fatalf("waited in vain until %s\nthe page shows:\n%s", what, p.shown())
}

// Eval evaluates an expression, or a promise of one, in the page.
func Eval[T any](p *Page, expression string) T {
	p.t.Helper()
	return eval[T](p, expression)
}

func eval[T any](p *Page, expression string) T {
	p.t.Helper()
	v, err := tryEval[T](p, expression)
	if err != nil {
		p.t.Fatalf("in the page: %v, asked for %s", err, shortened(expression))
	}
	return v
}

func tryEval[T any](p *Page, expression string) (T, error) {
	ctx, cancel := context.WithTimeout(p.ctx, 2*patience)
	defer cancel()
	return chromedp.Run(ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
}

// do does one step in the window.
func (p *Page) do(what string, step chromedp.Action[chromedp.Void]) {
	p.t.Helper()
	if err := within(what, func() error { return chromedp.Do(p.ctx, step) }); err != nil {
		p.t.Fatal(err)
	}
}

// call sends one command to the window and gives its answer.
func call[P, R any](p *Page, command cdp.Command[P, R], params P) (answer R) {
	p.t.Helper()
	err := within("the browser's answer to "+command.Method, func() (err error) {
		answer, err = chromedp.Call(p.ctx, command, params)
		return err
	})
	if err != nil {
		p.t.Fatal(err)
	}
	return answer
}

// must sends one command to the window.
func must[P, R any](p *Page, command cdp.Command[P, R], params P) {
	p.t.Helper()
	call(p, command, params)
}

// shortened is the beginning of an expression, for messages.
func shortened(expression string) string {
	const limit = 200
	if len(expression) > limit {
		return expression[:limit] + " …"
	}
	return expression
}

// shown is the text of the page, for messages.
func (p *Page) shown() string {
	text, err := tryEval[string](p, `document.body ? document.body.innerText : ""`)
	if err != nil {
		return err.Error()
	}
	const limit = 3000
	if len(text) > limit {
		text = text[:limit] + " …"
	}
	return strings.TrimSpace(text)
}

// quoted writes a Go value as a JavaScript one.
func quoted(v any) string {
	text, err := json.Marshal(v)
	if err != nil {
		panic(fmt.Sprintf("a test passes what JSON cannot hold: %v", err))
	}
	return string(text)
}

// held is what is typed in the fields of the page, for messages.
func (p *Page) held() string {
	text, err := tryEval[string](p, `[...document.querySelectorAll("input[data-act], select[data-act]")].map((e) => e.dataset.act + " = " + e.value).join("\n")`)
	if err != nil {
		return err.Error()
	}
	return text
}
