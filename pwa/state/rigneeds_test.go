package state

import (
	"strings"
	"testing"
)

// needs are the needs of the rig, by their act.
func (w *world) needs() map[string]Need {
	list := map[string]Need{}
	for _, n := range w.app.Rig.Needs {
		list[n.Act] = n
	}
	return list
}

func TestNeeds_of_an_empty_rig_lead_to_the_form_of_each_part(t *testing.T) {
	w := newWorld(t)
	for act, want := range map[string]Msg{"cylinder": PartAdded{Kind: KindCylinder, Line: LineFuel}, "torch": PartAdded{Kind: KindTorch}, "tip": PartAdded{Kind: KindTip}} {
		n, ok := w.needs()[act]
		if !ok || n.Msg != want || n.Stays || n.Why == "" || n.Label == "" || !strings.HasSuffix(n.Head(), ".") {
			t.Errorf("%s: %+v", act, n)
		}
		w.post(n.Msg)
		if w.app.Rig.Form == nil {
			t.Errorf("%s opens no form", act)
		}
		w.post(FormCancelled{})
	}
	if len(w.app.Rig.Needs) != 3 || len(w.app.Rig.Missing) != 3 {
		t.Errorf("needs %+v, missing %v", w.app.Rig.Needs, w.app.Rig.Missing)
	}
}

func TestNeeds_of_a_half_filled_rig_name_what_is_there_and_lacks_something(t *testing.T) {
	w := newWorld(t)
	w.post(SampleAdded{})
	if len(w.app.Rig.Needs) != 0 {
		t.Fatalf("the sample rig needs %+v", w.app.Rig.Needs)
	}
	spare := Part{Kind: KindTorch, Name: "spare torch", Choices: map[string]string{"mixing": "equal_pressure"}}
	bare := Part{Kind: KindTip, Name: "00", Choices: map[string]string{"fuel": "acetylene"}}
	var p pending
	for _, part := range []Part{spare, bare} {
		d, err := draftOf(part)
		if err != nil {
			t.Fatal(err)
		}
		p.drafts = append(p.drafts, d)
	}
	app, effects := w.app.write(p)
	w.app = app
	w.run(effects)
	for _, p := range w.app.Rig.parts {
		if p.Kind == KindTip && p.Name != "00" || p.Kind == KindTorch && p.InUse {
			w.post(PartRetired{ID: p.ID})
		}
	}
	needs := w.needs()
	if n := needs["tip"]; !strings.Contains(n.Text, "the hole of tip 00") || len(needs) != 2 {
		t.Fatalf("%+v", needs)
	}
	w.post(needs["tip"].Msg)
	if w.app.Rig.Form == nil || w.app.Rig.Form.Kind != KindTip {
		t.Error("the way to the tip opens no form of it")
	}
	w.post(FormCancelled{})
	if n := needs["torch"]; !n.Stays || n.Label != "Use spare torch" {
		t.Errorf("%+v", n)
	}
	w.post(needs["torch"].Msg)
	if _, still := w.needs()["torch"]; still {
		t.Error("the spare torch is not in use")
	}
}
