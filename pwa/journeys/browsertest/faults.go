//go:build browser

package browsertest

import (
	"strings"
	"sync"

	"github.com/chromedp/cdproto/inspector"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	cdpruntime "github.com/chromedp/cdproto/runtime"
)

// faults are what pages reported without being asked.
type faults struct {
	mu       sync.Mutex
	texts    []string
	expected []string
}

func (f *faults) add(text string) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.texts = append(f.texts, text)
}

func (f *faults) expect(words string) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.expected = append(f.expected, words)
}

// list returns the faults that no expectation lets pass, each once.
func (f *faults) list() []string {
	f.mu.Lock()
	defer f.mu.Unlock()
	var list []string
	seen := map[string]bool{}
	for _, text := range f.texts {
		if !seen[text] && !f.passes(text) {
			list = append(list, text)
		}
		seen[text] = true
	}
	return list
}

func (f *faults) passes(text string) bool {
	for _, words := range f.expected {
		if strings.Contains(text, words) {
			return true
		}
	}
	return false
}

// unasked says what is wrong about an event of a page, "" when nothing is.
func unasked(event any, origin string) string {
	switch e := event.(type) {
	case *cdpruntime.EventExceptionThrown:
		return "exception: " + describe(e.ExceptionDetails)
	case *cdpruntime.EventConsoleAPICalled:
		return consoleFault(e)
	case *log.EventEntryAdded:
		if e.Entry.Level == log.EntryLevelError {
			return "browser log: " + e.Entry.Text + " " + e.Entry.URL
		}
	case *network.EventRequestWillBeSent:
		return foreign(e.Request.URL, origin)
	case *inspector.EventTargetCrashed:
		return "the page crashed"
	}
	return ""
}

func describe(d *cdpruntime.ExceptionDetails) string {
	if d.Exception != nil && d.Exception.Description != "" {
		return d.Exception.Description
	}
	return d.Text
}

// consoleFault takes errors and failed assertions, and what a Go program writes when it goes wrong: its standard error goes to
// the console as plain lines.
func consoleFault(e *cdpruntime.EventConsoleAPICalled) string {
	var words []string
	for _, a := range e.Args {
		word := a.Description
		if word == "" {
			word = strings.Trim(string(a.Value), `"`)
		}
		words = append(words, word)
	}
	text := strings.Join(words, " ")
	bad := e.Type == cdpruntime.ConsoleAPICalledTypeError || e.Type == cdpruntime.ConsoleAPICalledTypeAssert
	for _, sign := range []string{"panic:", "fatal error:", "ERROR"} {
		bad = bad || strings.Contains(text, sign)
	}
	if !bad {
		return ""
	}
	return "console: " + text
}

// foreign says that a request goes to another machine than the app's own.
func foreign(url, origin string) string {
	for _, own := range []string{origin + "/", "blob:" + origin, "data:", "about:"} {
		if strings.HasPrefix(url, own) {
			return ""
		}
	}
	return "a request went elsewhere: " + url
}
