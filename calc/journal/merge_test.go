package journal

import (
	"reflect"
	"slices"
	"testing"

	"encoding/json"
)

func number1(v float64) *float64 { return &v }

// Taking every field of the second version gives what the second says wherever the two differ; taking none gives the first.
func TestMerge_of_all_and_of_none_is_one_of_the_two(t *testing.T) {
	a := Sheet{At: "2026-05-01T10:00:00Z", Work: "weld", Tip: "1", Next: "slower", ThicknessM: number1(0.0016), Typed: map[string]string{"thickness_m": "16 ga"},
		Scores: map[string]int{"ripple": 1, "width": 4}, Skipped: []string{"porosity"}}
	b := Sheet{At: "2026-05-01T10:00:00Z", Work: "weld", Tip: "2", Note: "windy", ThicknessM: number1(0.002), Typed: map[string]string{"thickness_m": "2 mm"},
		Scores: map[string]int{"ripple": 3, "porosity": 2}, Tests: []TestResult{{Test: "break", Pass: true}}}
	all := map[string]bool{}
	for _, d := range Compare(a, b) {
		if d.Pickable() {
			all[d.Field] = true
		}
	}
	for _, tt := range []struct {
		from map[string]bool
		want Sheet
	}{{nil, a}, {all, b}} {
		got := Merge(a, b, tt.from)
		for _, d := range Compare(got, tt.want) {
			if d.Pickable() {
				t.Errorf("%d fields taken: %s is %+v", len(tt.from), d.Field, d)
			}
		}
		if got.Typed["thickness_m"] != tt.want.Typed["thickness_m"] {
			t.Errorf("the typed text is %q", got.Typed["thickness_m"])
		}
		if p := got.Check(); len(p) > 0 {
			t.Errorf("%v", p)
		}
	}
	if a.Scores["ripple"] != 1 || !slices.Equal(a.Skipped, []string{"porosity"}) {
		t.Error("the first version was changed")
	}
}

// Nothing that has no place in the choice is lost: photos of both, the card, and what this build does not know.
func TestMerge_keeps_what_cannot_be_chosen(t *testing.T) {
	one, two := Photo{Hash: "a", Role: "after"}, Photo{Hash: "b", Role: "back"}
	a := Sheet{Photos: []Photo{one}, extra: map[string]json.RawMessage{"x": []byte("1")}}
	b := Sheet{Finished: true, Photos: []Photo{one, two}, Card: []byte(`{}`), extra: map[string]json.RawMessage{"x": []byte("2"), "y": []byte("3")}}
	got := Merge(a, b, nil)
	if !reflect.DeepEqual(got.Photos, []Photo{one, two}) || string(got.Card) != "{}" || !got.Finished {
		t.Errorf("%+v", got)
	}
	if string(got.extra["x"]) != "1" || string(got.extra["y"]) != "3" {
		t.Errorf("unknown fields: %s", got.extra)
	}
}
