//go:build browser

package browsertest

import (
	"context"
	"fmt"
	"strings"
	"testing"

	cdpbrowser "github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/target"
	"github.com/chromedp/chromedp"
)

// Site is where the app comes from: a [Server], or a [Front] before one.
type Site interface{ Origin() string }

// Profile is a browser of its own: no cookie, no stored thing, no worker is shared with any other profile.
type Profile struct {
	t         testing.TB
	site      Site
	ctx       context.Context
	id        cdp.BrowserContextID
	downloads string
	onNew     []string // scripts every new document runs first
	faults    faults
}

// NewProfile returns a fresh profile for one site. At the end of the test it goes, and everything unasked for that its pages
// reported fails the test.
func NewProfile(t testing.TB, site Site) *Profile {
	t.Helper()
	ctx, err := browser()
	if err != nil {
		t.Fatal(err)
	}
	p := &Profile{t: t, site: site, ctx: ctx, downloads: t.TempDir()}
	p.id = ask(p, target.CreateBrowserContext, target.CreateBrowserContextParams{}).BrowserContextID
	t.Cleanup(p.close)
	ask(p, cdpbrowser.SetDownloadBehavior, cdpbrowser.SetDownloadBehaviorParams{
		Behavior: cdpbrowser.SetDownloadBehaviorBehaviorAllow, BrowserContextID: p.id, DownloadPath: p.downloads,
	})
	return p
}

// ask sends one command to the browser itself.
func ask[P, R any](p *Profile, command cdp.Command[P, R], params P) (answer R) {
	p.t.Helper()
	err := within("the browser's answer to "+command.Method, func() (err error) {
		answer, err = chromedp.CallBrowser(p.ctx, command, params)
		return err
	})
	if err != nil {
		p.t.Fatal(err)
	}
	return answer
}

func (p *Profile) close() {
	err := within("the profile to close", func() error {
		_, err := chromedp.CallBrowser(p.ctx, target.DisposeBrowserContext, target.DisposeBrowserContextParams{BrowserContextID: p.id})
		return err
	})
	if err != nil {
		p.t.Error(err)
	}
	for _, f := range p.faults.list() {
		p.t.Error(f)
	}
}

// Expect lets faults pass whose text contains the given words, such as the refused connection of a stopped server.
func (p *Profile) Expect(words string) { p.faults.expect(words) }

// OnNew has every document opened from now on run a script before its own.
func (p *Profile) OnNew(script string) { p.onNew = append(p.onNew, script) }

// OnlyNew has them run this one alone.
func (p *Profile) OnlyNew(script string) { p.onNew = []string{script} }

// Open opens a window of the size of a common phone, 390 by 844, and waits until the app runs in it.
func (p *Profile) Open(path string) *Page {
	p.t.Helper()
	page := p.Blank()
	page.Go(path)
	return page
}

// Blank opens an empty window.
func (p *Profile) Blank() *Page {
	p.t.Helper()
	ctx, cancel := chromedp.NewContext(p.ctx, chromedp.WithExistingBrowserContext(p.id), chromedp.WithListener(p.heard))
	page := &Page{t: p.t, profile: p, ctx: ctx, cancel: cancel}
	if err := within("a window to open", func() error { return chromedp.Do(ctx) }); err != nil {
		p.t.Fatal(err)
	}
	for _, script := range p.onNew {
		page.onNew(script)
	}
	must(page, emulation.SetTouchEmulationEnabled, emulation.SetTouchEmulationEnabledParams{Enabled: true})
	page.Size(390, 844)
	return page
}

// heard keeps what a page reports that nobody asked for. It runs in the reading loop and must not wait.
func (p *Profile) heard(event any) {
	if text := unasked(event, p.site.Origin()); text != "" {
		p.faults.add(text)
	}
}

// Visit opens a window at the path, has a look, and closes it.
func (p *Profile) Visit(path string, look func(*Page)) {
	p.t.Helper()
	page := p.Open(path)
	defer page.Close()
	look(page)
}

// String names the profile in messages.
func (p *Profile) String() string {
	return fmt.Sprintf("profile of %s", strings.TrimPrefix(p.site.Origin(), "http://"))
}
