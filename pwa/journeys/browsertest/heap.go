//go:build browser

package browsertest

import (
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/heapprofiler"
)

// HeapInUse is what the page's script still holds after the collector of garbage has run, in bytes.
func (p *Page) HeapInUse() float64 {
	p.t.Helper()
	must(p, heapprofiler.CollectGarbage, cdp.Empty{})
	return eval[float64](p, `performance.memory.usedJSHeapSize`)
}
