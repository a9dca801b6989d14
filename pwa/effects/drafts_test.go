package effects

import (
	"encoding/json"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"testing"

	"torchside/pwa/state"
)

// box is a browser's storage.
type box map[string]string

func (b box) Set(k string, v any) error {
	text, err := json.Marshal(v)
	b[k] = string(text)
	return err
}

func (b box) Get(k string, v any) error {
	if text, ok := b[k]; ok {
		return json.Unmarshal([]byte(text), v)
	}
	return nil
}

func (b box) Del(k string) { delete(b, k) }
func (b box) Len() int     { return len(b) }
func (b box) Clear()       { clear(b) }
func (b box) ForEach(f func(string)) {
	for _, k := range slices.Collect(maps.Keys(b)) {
		f(k)
	}
}
func (b box) Contains(k string) bool { _, ok := b[k]; return ok }

// window is one window of the app on a shared storage; opening it again with the same box of its own is a reload.
func window(all, mine box) (*WebBrowser, map[string]state.Draft) {
	b := &WebBrowser{}
	b.Keep(all, mine)
	return b, b.Drafts()
}

func typed(text string) state.Draft {
	return state.Draft{Kind: "sheet", Texts: map[string]string{"note": text}}
}

func keepIn(t *testing.T, b *WebBrowser, key string, d state.Draft) {
	t.Helper()
	if err := b.KeepDraft(key, d); err != nil {
		t.Fatal(err)
	}
}

// notes are the texts of the drafts by key.
func notes(drafts map[string]state.Draft) map[string]string {
	list := map[string]string{}
	for key, d := range drafts {
		list[key] = d.Texts["note"]
	}
	return list
}

func TestDrafts_of_two_windows_lie_side_by_side(t *testing.T) {
	all, mineA, mineB := box{}, box{}, box{}
	a, _ := window(all, mineA)
	keepIn(t, a, "k", typed("one"))
	b, got := window(all, mineB)
	if want := map[string]string{"k": "one"}; !maps.Equal(notes(got), want) {
		t.Fatalf("the second window found %v", notes(got))
	}
	keepIn(t, a, "k", typed("one, here"))
	keepIn(t, b, "k", typed("one, there"))
	keepIn(t, a, "k", typed("one, here again"))
	_, got = window(all, mineA)
	if want := map[string]string{"k": "one, here again", "k#2": "one, there"}; !maps.Equal(notes(got), want) {
		t.Errorf("the first window, loaded again, has %v", notes(got))
	}
	b, got = window(all, mineB)
	if want := map[string]string{"k": "one, there", "k#2": "one, here again"}; !maps.Equal(notes(got), want) {
		t.Errorf("the second window, loaded again, has %v", notes(got))
	}
	keepIn(t, b, "k", state.Draft{})
	_, got = window(all, box{})
	if want := map[string]string{"k": "one, here again"}; !maps.Equal(notes(got), want) {
		t.Errorf("once the second was saved there is %v", notes(got))
	}
}

func TestDrafts_changed_elsewhere_are_not_forgotten_by_another_window(t *testing.T) {
	all := box{}
	a, _ := window(all, box{})
	keepIn(t, a, "k", typed("one"))
	b, _ := window(all, box{})
	keepIn(t, a, "k", typed("one more"))
	keepIn(t, b, "k", state.Draft{})
	_, got := window(all, box{})
	if want := map[string]string{"k": "one more"}; !maps.Equal(notes(got), want) {
		t.Errorf("kept %v, want %v", notes(got), want)
	}
}

func TestDrafts_without_a_kind_are_those_of_the_last_window(t *testing.T) {
	all := box{}
	a, _ := window(all, box{})
	b, _ := window(all, box{})
	for i, w := range []*WebBrowser{a, b, a} {
		keepIn(t, w, "setup", state.Draft{Texts: map[string]string{"note": fmt.Sprint(i)}})
	}
	_, got := window(all, box{})
	if want := map[string]string{"setup": "2"}; !maps.Equal(notes(got), want) {
		t.Errorf("kept %v, want %v", notes(got), want)
	}
}

// windows are several windows of one browser, and what must still be there.
type windows struct {
	t     *testing.T
	all   box
	mine  []box
	open  []*WebBrowser
	shown []map[string]string // by key: what each window knows
	last  []map[string]string // by key: what was typed last in each window and not saved there
}

func newWindows(t *testing.T, n int) *windows {
	w := &windows{t: t, all: box{}}
	for range n {
		mine := box{}
		b, _ := window(w.all, mine)
		w.mine, w.open = append(w.mine, mine), append(w.open, b)
		w.shown, w.last = append(w.shown, map[string]string{}), append(w.last, map[string]string{})
	}
	return w
}

// keep types into a form of a window, or saves it with "". A text of another window that this one shows is taken up by it.
func (w *windows) keep(i int, key, text string) {
	for _, other := range w.last {
		maps.DeleteFunc(other, func(_, t string) bool { return t == w.shown[i][key] })
	}
	w.shown[i][key], w.last[i][key] = text, text
	if text == "" {
		delete(w.last[i], key)
		keepIn(w.t, w.open[i], key, state.Draft{})
		return
	}
	keepIn(w.t, w.open[i], key, typed(text))
}

// reload opens a window again and looks whether all it had is there under the same key.
func (w *windows) reload(i int) error {
	b, got := window(w.all, w.mine[i])
	w.open[i], w.shown[i] = b, notes(got)
	for key, text := range w.last[i] {
		if found := w.shown[i][key]; found != text {
			return fmt.Errorf("window %d loaded again has %q under %s, want %q", i, found, key, text)
		}
	}
	return nil
}

// Whatever windows type, save and reload, the last text of every form of every window is what that window finds again.
func TestDrafts_lose_no_windows_text_on_random_keeping(t *testing.T) {
	for seed := range uint64(300) {
		r := rand.New(rand.NewPCG(seed, 5))
		w := newWindows(t, 3)
		for step := range 60 {
			i, key := r.IntN(3), []string{"k", "k#2", "l"}[r.IntN(3)]
			switch r.IntN(6) {
			case 0:
				w.keep(i, key, "")
			case 1:
				if err := w.reload(i); err != nil {
					t.Fatalf("seed %d step %d: %v", seed, step, err)
				}
			default:
				w.keep(i, key, fmt.Sprintf("%d in %d", step, i))
			}
		}
	}
}
