//go:build browser

package browsertest

import (
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/performance"
	"github.com/chromedp/chromedp"
)

// Work is what the thread of a page did since it was opened, in seconds of its own processor time: other programs on the machine
// do not count.
type Work struct{ Task, Script, Style, Layout float64 }

// CountWork starts counting; call it once.
func (p *Page) CountWork() {
	p.t.Helper()
	must(p, performance.Enable, performance.EnableParams{TimeDomain: "threadTicks"})
}

// Work reads the counts.
func (p *Page) Work() Work {
	p.t.Helper()
	m, err := chromedp.Call(p.ctx, performance.GetMetrics, cdp.Empty{})
	if err != nil {
		p.t.Fatalf("reading what the page did: %v", err)
	}
	named := map[string]float64{}
	for _, one := range m.Metrics {
		named[one.Name] = one.Value
	}
	return Work{named["TaskDuration"], named["ScriptDuration"], named["RecalcStyleDuration"], named["LayoutDuration"]}
}
