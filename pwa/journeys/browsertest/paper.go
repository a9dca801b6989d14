//go:build browser

package browsertest

import (
	"regexp"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// onePage finds the object of each page in a file the browser prints; the list of pages is called Pages.
var onePage = regexp.MustCompile(`/Type\s*/Page[^s]`)

// Printed prints what the window shows on paper of the given size in inches, and returns the file and how many pages it has.
func (p *Page) Printed(width, height float64) (file []byte, pages int) {
	p.t.Helper()
	err := within("the printed page", func() error {
		answer, err := chromedp.Call(p.ctx, page.PrintToPDF, page.PrintToPDFParams{PaperWidth: width, PaperHeight: height})
		file = answer.Data
		return err
	})
	if err != nil {
		p.t.Fatal(err)
	}
	return file, len(onePage.FindAll(file, -1))
}

// TypeTimed is Type, and says when each letter was typed.
func (p *Page) TypeTimed(act, text string) []time.Time {
	p.t.Helper()
	p.selectAll(act)
	var at []time.Time
	for _, letter := range text {
		must(p, input.InsertText, input.InsertTextParams{Text: string(letter)})
		at = append(at, time.Now())
	}
	return at
}
