package state

import "testing"

func TestSmoke(t *testing.T) {
	w := newWorld(t)
	w.post(NoticeAccepted{})
	w.post(SampleAdded{})
	w.post(SetupTyped{"thickness", "1/8 in"})
	t.Logf("%+v", w.app.Setup.Refusal)
	t.Logf("%+v", w.app.Setup.Card)
	t.Log(w.app.Rig.Missing, w.app.Setup.Errors)
	for _, g := range w.app.Rig.Groups {
		t.Logf("%+v", g)
	}
	w.post(PartAdded{Kind: KindTip})
	for k, v := range map[string]string{"name": "3", "orifice_diameter": "1/0"} {
		w.post(FormTyped{k, v})
	}
	w.post(FormSaved{})
	t.Logf("%+v", w.app.Rig.Form)
}
