//go:build browser

package browsertest

import "strings"

// hooks are the names an element can be read by.
var hooks = []string{"data-val", "data-act", "data-notice", "data-refusal", "data-warning"}

// said is the JavaScript function for what an element says: a field what is typed in it, any other its text.
const said = `((e) => e.matches("input, select, textarea") ? e.value : e.innerText)`

// selector finds an element by any of its hooks.
func selector(hook string) string {
	list := make([]string, len(hooks))
	for i, h := range hooks {
		list[i] = "[" + h + `="` + hook + `"]`
	}
	return strings.Join(list, ",")
}

// Text returns the text of the first element with this hook (data-val, data-act, data-notice, data-refusal or data-warning),
// once there is one; of a field it is what is typed in it.
func (p *Page) Text(hook string) string {
	p.t.Helper()
	found := `document.querySelector(` + quoted(selector(hook)) + `)`
	p.Wait("there is "+hook, found)
	return strings.TrimSpace(eval[string](p, said+`(`+found+`)`))
}

// Has reports whether an element with this hook is shown now.
func (p *Page) Has(hook string) bool {
	p.t.Helper()
	return eval[bool](p, shownNow(hook))
}

// Wants waits until an element with this hook is shown and holds all the words.
func (p *Page) Wants(hook string, words ...string) {
	p.t.Helper()
	p.Wait(hook+" holds "+strings.Join(words, ", "), `[...document.querySelectorAll(`+quoted(selector(hook))+`)].some((e) =>
		e.getClientRects().length > 0 && `+quoted(append([]string{}, words...))+`.every((w) => `+said+`(e).includes(w)))`)
}

// Lacks waits until no element with this hook is shown.
func (p *Page) Lacks(hook string) {
	p.t.Helper()
	p.Wait(hook+" is gone", "!"+shownNow(hook))
}

// WantsText waits until the words stand somewhere on the page.
func (p *Page) WantsText(words string) {
	p.t.Helper()
	p.Wait("the page says "+words, `document.body.innerText.includes(`+quoted(words)+`)`)
}

// LacksText waits until the words stand nowhere on the page.
func (p *Page) LacksText(words string) {
	p.t.Helper()
	p.Wait("the page no longer says "+words, `!document.body.innerText.includes(`+quoted(words)+`)`)
}

// All returns the values of an attribute on all elements that have it, in the order of the page.
func (p *Page) All(attribute string) []string {
	p.t.Helper()
	return eval[[]string](p, `[...document.querySelectorAll(`+quoted("["+attribute+"]")+`)].map((e) => e.getAttribute(`+quoted(attribute)+`))`)
}

func shownNow(hook string) string {
	return `[...document.querySelectorAll(` + quoted(selector(hook)) + `)].some((e) => e.getClientRects().length > 0)`
}
