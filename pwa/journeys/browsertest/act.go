//go:build browser

package browsertest

import (
	_ "embed" // find.js
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
)

//go:embed find.js
var findJS string

// spot is where a finger goes.
type spot struct {
	X   float64 `json:"x"`
	Y   float64 `json:"y"`
	Why string  `json:"why"` // why there is none
}

// find waits until the control can be tapped.
func (p *Page) find(act string) spot {
	p.t.Helper()
	s, err := tryEval[spot](p, "("+findJS+")("+quoted(act)+", "+quoted(patience.Milliseconds())+")")
	if err != nil || s.Why != "" {
		p.t.Fatalf("cannot tap: %s %v\nthe page shows:\n%s", s.Why, err, p.shown())
	}
	return s
}

// Tap taps the control with this data-act with a finger, and fails the test when something else is met: the page then moved
// under the finger. A touch of which the browser makes no click, as happens on a busy machine just after the window got another
// size, is made again.
func (p *Page) Tap(act string) {
	p.t.Helper()
	if p.keys || allByKeys {
		p.pressKey(act)
		return
	}
	const tries = 3
	for range tries {
		s := p.find(act)
		p.touch(s)
		switch landed := p.landed(); landed {
		case "met":
			return
		case "":
			p.t.Logf("no click came of the touch on %s at %v, %v; %s", act, s.X, s.Y, p.window())
		default:
			p.t.Fatalf("the tap on %s at %v, %v: %s\nthe page shows:\n%s", act, s.X, s.Y, landed, p.shown())
		}
	}
	p.t.Fatalf("no click came of any touch on %s; the page shows:\n%s", act, p.shown())
}

// window says what may have kept a touch from becoming a click: how the window shows the page, and what came of the touch.
func (p *Page) window() string {
	said, err := tryEval[string](p, `(() => {
		const v = visualViewport;
		return "the window shows " + [v.width, v.height, v.offsetLeft, v.offsetTop].join(", ") + " at scale " + v.scale +
			" of " + innerWidth + " x " + innerHeight + ", " + document.visibilityState + "; events: " + (window.torchsideTouched ?? []).join(" ");
	})()`)
	if err != nil {
		return err.Error()
	}
	return said
}

// landed waits until the page knows what the tap met: "" when it never came.
func (p *Page) landed() string {
	p.t.Helper()
	const soon = patience / 8
	landed := ""
	for end := time.Now().Add(soon); time.Now().Before(end); time.Sleep(5 * time.Millisecond) {
		var err error
		landed, err = tryEval[string](p, `window.torchsideLanded ?? "met"`)
		if err != nil {
			return "met" // the document is gone, as it should be after a link to another
		}
		if landed != "" {
			break
		}
	}
	return landed
}

// TapAt taps a place in the element with this data-act, given as shares of its width and height.
func (p *Page) TapAt(act string, x, y float64) {
	p.t.Helper()
	p.find(act)
	s := eval[spot](p, `(() => {
		const found = `+element(act)+`;
		const box = found.getBoundingClientRect();
		return { x: box.x + `+quoted(x)+` * box.width, y: box.y + `+quoted(y)+` * box.height, why: "" };
	})()`)
	p.touch(s)
}

func (p *Page) touch(s spot) {
	p.t.Helper()
	must(p, input.DispatchTouchEvent, input.DispatchTouchEventParams{
		Type: input.DispatchTouchEventTypeTouchStart, TouchPoints: []*input.TouchPoint{{X: s.X, Y: s.Y}},
	})
	must(p, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: input.DispatchTouchEventTypeTouchEnd, TouchPoints: []*input.TouchPoint{}})
}

// Type replaces the text of a field, letter by letter.
func (p *Page) Type(act, text string) {
	p.t.Helper()
	p.selectAll(act)
	if text == "" {
		p.do("emptying "+act, chromedp.KeyEvent("\b"))
	}
	for _, letter := range text {
		must(p, input.InsertText, input.InsertTextParams{Text: string(letter)})
	}
}

// Press presses one key where the focus is, such as kb.Enter of chromedp.
func (p *Page) Press(key string) {
	p.t.Helper()
	if err := chromedp.Do(p.ctx, chromedp.KeyEvent(key)); err != nil {
		p.t.Fatalf("pressing a key: %v", err)
	}
}

// Back goes back as the button of browser or phone does, Forward the other way.
func (p *Page) Back() { p.t.Helper(); eval[bool](p, `history.back(), true`) }

// Forward undoes Back.
func (p *Page) Forward() { p.t.Helper(); eval[bool](p, `history.forward(), true`) }

// Paste replaces the text of a field at once, so that no beginning of it is ever read.
func (p *Page) Paste(act, text string) {
	p.t.Helper()
	p.selectAll(act)
	must(p, input.InsertText, input.InsertTextParams{Text: text})
}

func (p *Page) selectAll(act string) {
	p.t.Helper()
	if p.keys || allByKeys {
		p.reach(act)
	} else {
		p.find(act)
	}
	eval[bool](p, element(act)+`.focus(), `+element(act)+`.select(), true`)
}

// Choose takes one answer of a list: the phone's own list is out of a test's reach, so the choice is made for it.
func (p *Page) Choose(act, value string) {
	p.t.Helper()
	p.find(act)
	taken := eval[bool](p, `(() => {
		const list = `+element(act)+`;
		list.focus();
		list.value = `+quoted(value)+`;
		list.dispatchEvent(new Event("input", { bubbles: true }));
		list.dispatchEvent(new Event("change", { bubbles: true }));
		return list.value === `+quoted(value)+`;
	})()`)
	if !taken {
		p.t.Fatalf("%s has no answer %q", act, value)
	}
}

// Upload hands files to the file field with this data-act.
func (p *Page) Upload(act string, paths ...string) {
	p.t.Helper()
	p.do("handing files to "+act, chromedp.SetUploadFiles(chromedp.CSS(hookSelector(act)), paths))
}

// Downloaded waits for the next file the browser has saved, returns its path and keeps it out of later answers.
func (p *Profile) Downloaded() string {
	p.t.Helper()
	var found string
	waitFor(p.t, "a file is saved", func() bool {
		found = p.newFile()
		return found != ""
	}, p.String)
	kept := filepath.Join(p.t.TempDir(), filepath.Base(found))
	if err := os.Rename(found, kept); err != nil {
		p.t.Fatal(err)
	}
	return kept
}

// newFile returns a finished download, "" when there is none.
func (p *Profile) newFile() string {
	files, err := os.ReadDir(p.downloads)
	if err != nil {
		p.t.Fatal(err)
	}
	for _, f := range files {
		if !strings.HasSuffix(f.Name(), ".crdownload") && !strings.HasPrefix(f.Name(), ".") {
			return filepath.Join(p.downloads, f.Name())
		}
	}
	return ""
}

func hookSelector(act string) string { return `[data-act="` + act + `"]` }

// element is the JavaScript expression for the control with this data-act.
func element(act string) string { return `document.querySelector(` + quoted(hookSelector(act)) + `)` }
