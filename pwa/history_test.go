package pwa

import (
	"net/url"
	"testing"

	"torchside/pwa/state"
)

// Everything that lies over a page has an address that opens the same again, and closes by the way back.
func TestOverlay_has_an_address_that_opens_it_again(t *testing.T) {
	for _, m := range []state.PartAdded{
		{Kind: state.KindTip}, {Kind: state.KindHose, Line: state.LineFuel}, {Kind: state.KindCylinder, Line: state.LineOxygen},
		{Kind: state.KindChartRow, TipID: "t1"},
	} {
		a, _ := state.Reduce(state.New(), state.Loaded{})
		a, _ = state.Reduce(a, m)
		a, _ = state.Reduce(a, state.FormTyped{Key: "note", Text: "half"})
		at, err := url.Parse("/rig?" + overlay("/rig", a))
		if err != nil {
			t.Fatal(err)
		}
		if asked(at) != overlay("/rig", a) {
			t.Errorf("%v asks for %q, open is %q", at, asked(at), overlay("/rig", a))
		}
		left, _ := state.Reduce(a, leaving("/rig", a))
		if overlay("/rig", left) != "" || overlay("/", a) != "" {
			t.Errorf("%v: left %q, on another page %q", at, overlay("/rig", left), overlay("/", a))
		}
		again, _ := state.Reduce(left, linked(at))
		if again.Rig.Form == nil || !again.Rig.Form.Restored || overlay("/rig", again) != overlay("/rig", a) {
			t.Errorf("%v opens %+v", at, again.Rig.Form)
		}
	}
}

func TestAsked_leaves_out_what_is_nothing_of_ours(t *testing.T) {
	for address, want := range map[string]string{
		"/rig?source=home": "", "/?from=oxygen.flow&x=1": "from=oxygen.flow", "/rig?edit=r1&from=x": "edit=r1", "/leak?test=t1&x=1": "test=t1", "/bench?edit=r1": "",
	} {
		u, err := url.Parse(address)
		if err != nil {
			t.Fatal(err)
		}
		if got := asked(u); got != want {
			t.Errorf("%s asks for %q, want %q", address, got, want)
		}
	}
}
