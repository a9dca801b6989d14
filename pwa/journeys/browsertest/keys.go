//go:build browser

package browsertest

import (
	_ "embed" // keys.js
	"encoding/json"
	"os"
	"strings"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

//go:embed keys.js
var keysJS string

// allByKeys has every journey be gone through with the keyboard.
var allByKeys = os.Getenv("TORCHSIDE_KEYS") != ""

// ByKeys returns the same window, used with the keyboard alone: what would be tapped is reached with the Tab key and pressed. Each
// control on the way must be reached, show that it has the focus, not lie under a bar, and have a name for a screen reader.
func (p *Page) ByKeys() *Page {
	c := *p
	c.keys = true
	return &c
}

// way is how the keyboard goes on to a control; see keys.js.
type way struct {
	Why     string `json:"why"`
	Behind  bool   `json:"behind"`
	Alone   bool   `json:"alone"`
	Arrows  int    `json:"arrows"`
	Key     string `json:"key"`
	Checked bool   `json:"checked"`
}

// reach brings the focus to the control with this data-act by the Tab key. Where the page was drawn anew meanwhile, as after the tap
// before, it is done again: a person would.
func (p *Page) reach(act string) way {
	p.t.Helper()
	const tries = 3
	var w way
	for range tries {
		p.find(act)
		if w = eval[way](p, "("+keysJS+")("+quoted(act)+")"); w.Why != "" {
			p.t.Fatal(w.Why)
		}
		if w.Alone {
			eval[bool](p, `(torchsideStop.focus(), true)`)
		} else {
			p.tab(w.Behind)
		}
		for range w.Arrows {
			p.Press(kb.ArrowDown)
			p.drawn()
		}
		still := eval[bool](p, `torchsideBefore.isConnected && torchsideControl.isConnected`)
		if !still && w.Arrows > 0 {
			return w // the choice was made, and what came of it took its place
		}
		if still {
			break
		}
	}
	p.focused(act)
	return w
}

// drawn waits until what a key has set off is drawn: nobody presses the next one sooner.
func (p *Page) drawn() {
	p.t.Helper()
	eval[bool](p, `new Promise((done) => setTimeout(() => requestAnimationFrame(() => requestAnimationFrame(() => done(true))), 30))`)
}

// tab moves the focus on by one control, which takes more than one press where the control has parts of its own, as a date has.
func (p *Page) tab(back bool) {
	p.t.Helper()
	const parts = 5
	for range parts {
		if back {
			p.do("Shift and Tab", chromedp.KeyEvent(kb.Tab, chromedp.KeyModifiers(chromedp.ModifierShift)))
		} else {
			p.Press(kb.Tab)
		}
		if eval[bool](p, `document.activeElement !== torchsideBefore`) {
			return
		}
	}
}

// focused fails the test unless the control has the focus, shows it, lies free, and has a name.
func (p *Page) focused(act string) {
	p.t.Helper()
	const look = `(() => {
		const now = document.activeElement, wanted = torchsideControl;
		if (now !== wanted) return "the keys lead to " + now?.outerHTML.slice(0, 160);
		if (now.disabled || !now.isConnected) return "it takes no keys";
		const outlined = (e) => e && getComputedStyle(e).outlineStyle !== "none" && parseFloat(getComputedStyle(e).outlineWidth) >= 2;
		if (![now, now.nextElementSibling, now.parentElement].some(outlined)) return "nothing shows that it has the focus";
		const box = (now.closest("[data-act]") ?? now).getBoundingClientRect();
		const hit = document.elementFromPoint(Math.min(Math.max(box.x + box.width / 2, 0), innerWidth - 1), Math.min(Math.max(box.y + box.height / 2, 0), innerHeight - 1));
		const free = hit && (hit.contains(now) || now.contains(hit) || now.closest("[data-act]")?.contains(hit));
		return free ? "" : "it has the focus and is covered by " + hit?.outerHTML.slice(0, 160);
	})()`
	why := eval[string](p, look)
	if why != "" {
		p.t.Logf("from %s", eval[string](p, `torchsideBefore.outerHTML.slice(0, 200) + " connected " + torchsideBefore.isConnected`))
		p.t.Fatalf("%s by the keyboard: %s\nthe page shows:\n%s", act, why, p.shown())
	}
	if name := p.nameOfFocused(); strings.TrimSpace(name) == "" {
		p.t.Errorf("%s has no name for a screen reader", act)
	}
}

// nameOfFocused is the name a screen reader gives what has the focus.
func (p *Page) nameOfFocused() string {
	p.t.Helper()
	object := call(p, runtime.Evaluate, runtime.EvaluateParams{Expression: "document.activeElement"})
	alone := false
	tree := call(p, accessibility.GetPartialAXTree, accessibility.GetPartialAXTreeParams{ObjectID: object.Result.ObjectID, FetchRelatives: &alone})
	for _, node := range tree.Nodes {
		if !node.Ignored {
			return textOf(node.Name)
		}
	}
	return ""
}

// pressKey does with the keyboard what a tap does.
func (p *Page) pressKey(act string) {
	p.t.Helper()
	w := p.reach(act)
	if w.Arrows > 0 || w.Checked {
		return // the arrow has chosen it, or it was chosen before
	}
	p.Press(w.Key)
	switch landed := p.landed(); landed {
	case "met":
	case "":
		p.t.Fatalf("no click came of the key on %s; the page shows:\n%s", act, p.shown())
	default:
		p.t.Fatalf("the key on %s: %s", act, landed)
	}
}

// Spoken is a node of the accessibility tree, as a screen reader meets it.
type Spoken struct{ Role, Name string }

// ReadOut lists what a screen reader says of the page, in its order, without what only holds others together.
func (p *Page) ReadOut() []Spoken {
	p.t.Helper()
	tree := call(p, accessibility.GetFullAXTree, accessibility.GetFullAXTreeParams{})
	byID := map[accessibility.NodeID]*accessibility.Node{}
	for _, node := range tree.Nodes {
		byID[node.NodeID] = node
	}
	var list []Spoken
	var walk func(id accessibility.NodeID)
	walk = func(id accessibility.NodeID) {
		node := byID[id]
		if node == nil {
			return
		}
		role, name := textOf(node.Role), textOf(node.Name)
		if !node.Ignored && name != "" && role != "InlineTextBox" {
			list = append(list, Spoken{role, name})
		}
		for _, child := range node.ChildIDs {
			walk(child)
		}
	}
	if len(tree.Nodes) > 0 {
		walk(tree.Nodes[0].NodeID)
	}
	return list
}

func textOf(v *accessibility.Value) string {
	if v == nil {
		return ""
	}
	var text string
	if json.Unmarshal([]byte(v.Value), &text) != nil {
		return ""
	}
	return text
}
