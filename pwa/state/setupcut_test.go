package state

import (
	"strings"
	"testing"

	"torchside/calc/setup"
)

// doAll posts messages in turn.
func doAll(w *world, list ...Msg) {
	for _, m := range list {
		w.post(m)
	}
}

// cutting asks Setup of the sample rig to cut a plate.
func cutting(t *testing.T, thickness string) *world {
	t.Helper()
	w := newWorld(t)
	doAll(w, SampleAdded{}, SetupChosen{Field: "work", Value: "cut"}, SetupTyped{Field: "thickness", Text: thickness})
	return w
}

// Cutting has a card of the cutting tip, and fields of its own that no other work shows.
func TestSetup_cutting(t *testing.T) {
	w := cutting(t, "10 mm")
	s := w.app.Setup
	if s.Card == nil || s.Card.Cutting == nil || s.Card.Tip != "SAMPLE cutting" {
		t.Fatalf("%+v, %v", s.Card, s.Refusal)
	}
	var keys []string
	for _, f := range s.Piece {
		keys = append(keys, f.Key)
	}
	if got := strings.Join(keys, " "); got != "start coating purity" {
		t.Errorf("fields %q", got)
	}
	doAll(w, SetupTyped{Field: keyStart, Text: "pierce"}, SetupTyped{Field: keyCoating, Text: coatPainted}, SetupTyped{Field: keyPurity, Text: "98,5 %"})
	if q := w.app.Setup.input.Cut; q == nil || *q != (setup.CutQuestion{OxygenPurity: 0.985, Start: "pierce", Painted: true}) {
		t.Errorf("asked %+v", q)
	}
	doAll(w, SetupChosen{Field: "work", Value: "weld"}, SetupTyped{Field: "thickness", Text: "3 mm"})
	if w.app.Setup.Card.Cutting != nil || w.app.Setup.input.Cut != nil || len(w.app.Setup.Piece) != 1 || w.app.Setup.Piece[0].Key != keyWeld {
		t.Error("welding is asked of the cut")
	}
}

// Bad purity keeps its text and says what is allowed; a share without its sign is offered with it.
func TestSetup_cuttingPurityIsRefusedReadably(t *testing.T) {
	w := cutting(t, "10 mm")
	doAll(w, SetupTyped{Field: keyPurity, Text: "90 %"})
	f := w.app.Setup.Fields[keyPurity]
	if f.Text != "90 %" || !strings.Contains(f.Error, "95 %") || !w.app.Setup.Stale {
		t.Errorf("%+v", f)
	}
	doAll(w, SetupTyped{Field: keyPurity, Text: "99.5"})
	if f := w.app.Setup.Fields[keyPurity]; len(f.Choices) != 1 || f.Choices[0] != "99.5 %" {
		t.Errorf("%+v", f)
	}
}

// A tip for cutting has its own fields; of a flame tip they are not asked.
func TestSpecs_ofACuttingTip(t *testing.T) {
	for work, want := range map[string]bool{"cut": true, "weld": false, "": false} {
		for _, s := range Specs(KindTip) {
			if shown := s.isShown(fill{choices: map[string]string{"work": work}}); strings.HasPrefix(s.Key, "preheat_") && shown != want || s.Key == "orifice_count" && shown == want {
				t.Errorf("%s of a tip for %q: shown %v", s.Key, work, shown)
			}
		}
	}
}

// A cutting tip typed in by hand: what no tip can have is refused beside its field and kept, and once right it cuts in Setup.
func TestRig_aCuttingTipByHand(t *testing.T) {
	w := cutting(t, "20 mm")
	w.post(PartAdded{Kind: KindTip})
	w.fill("name", "C 14", "work", "cut", "orifice_diameter", "1.4 mm", "preheat_count", "6.5", "preheat_diameter", "20 mm")
	w.post(FormSaved{})
	f := w.app.Rig.Form
	if f == nil {
		t.Fatal("saved with a preheat hole of 20 mm")
	}
	errs := map[string]string{}
	for _, one := range f.Fields {
		errs[one.Key] = one.Error
		if one.Key == "preheat_diameter" && one.Text != "20 mm" {
			t.Errorf("typed text became %q", one.Text)
		}
	}
	if !strings.Contains(errs["preheat_diameter"], "allowed") || !strings.Contains(errs["preheat_count"], "whole number") || errs["orifice_diameter"] != "" {
		t.Errorf("%v", errs)
	}
	w.fill("preheat_count", "6", "preheat_diameter", "0.7 mm")
	w.post(FormSaved{})
	doAll(w, SetupChosen{Field: "tip", Value: "C 14"})
	c := w.app.Setup.Card
	if w.app.Rig.Form != nil || c == nil || c.Tip != "C 14" || c.TipDetail.PreheatCount != 6 || *c.TipDetail.PreheatDiameterM != 0.0007 {
		t.Errorf("%+v, %v", c, w.app.Setup.Refusal)
	}
}
