package pwa

import (
	"net/url"
	"os"
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

// An order of work has an address that opens it again at the same step, and closes by the way back.
func TestOverlay_of_an_order_of_work(t *testing.T) {
	text, err := os.ReadFile("../web/static/orders.json")
	if err != nil {
		t.Fatal(err)
	}
	a, _ := state.Reduce(state.New(), state.Loaded{})
	a, _ = state.Reduce(a, state.StaticRead{Address: "/web/orders.json", Data: text})
	for want, list := range map[string][]state.Msg{
		"order=light":                {state.OrderOpened{ID: "light"}},
		"order=light&step=3":         {state.OrderOpened{ID: "light"}, state.OrderStepped{By: 1}, state.OrderStepped{By: 1}},
		"order=close&step=2&whole=1": {state.OrderOpened{ID: "close", Step: 2}, state.OrderWholeToggled{}},
		"":                           {state.OrderOpened{ID: "close"}, state.OrderClosed{}},
	} {
		b := a
		for _, m := range list {
			b, _ = state.Reduce(b, m)
		}
		if got := overlay(ordersPath, b); got != want {
			t.Errorf("%v: %q, want %q", list, got, want)
		}
		at, err := url.Parse(ordersPath + "?" + want + "&x=1")
		if err != nil {
			t.Fatal(err)
		}
		if asked(at) != want {
			t.Errorf("%v asks for %q", at, asked(at))
		}
		if want == "" {
			continue
		}
		again, _ := state.Reduce(a, linked(at))
		if got := overlay(ordersPath, again); got != want {
			t.Errorf("%v opens %q", at, got)
		}
		left, _ := state.Reduce(again, leaving(ordersPath, again))
		if got := overlay(ordersPath, left); got != "" {
			t.Errorf("left: %q", got)
		}
	}
}

// A task of upkeep and a photo of it have addresses that open them again; the way back closes the photo before the task.
func TestOverlay_of_upkeep(t *testing.T) {
	a, _ := state.Reduce(state.New(), state.Loaded{})
	a, _ = state.Reduce(a, state.UpkeepShown{})
	task := state.ShopPart + "/look"
	a, _ = state.Reduce(a, state.UpkeepOpened{Key: task})
	a, _ = state.Reduce(a, state.PhotoStored{Key: "upkeep:" + task, Hash: "ab", ThumbHash: "cd", W: 8, H: 6, Bytes: 10})
	if got := overlay(upkeepPath, a); got != "task=shop%2Flook" || depth(got) != 1 {
		t.Fatalf("the task is at %q", got)
	}
	a, _ = state.Reduce(a, state.UpkeepLooked{Task: task})
	at, err := url.Parse(upkeepPath + "?" + overlay(upkeepPath, a) + "&x=1")
	if err != nil {
		t.Fatal(err)
	}
	if got := asked(at); got != "look=0&task=shop%2Flook" || depth(got) != 2 {
		t.Fatalf("the photo is at %q", got)
	}
	closed, _ := state.Reduce(a, leaving(upkeepPath, a))
	if got := overlay(upkeepPath, closed); got != "task=shop%2Flook" {
		t.Errorf("back from the photo: %q", got)
	}
	again, _ := state.Reduce(closed, linked(at))
	if got := overlay(upkeepPath, again); got != asked(at) {
		t.Errorf("%v opens %q", at, got)
	}
	list, _ := state.Reduce(closed, leaving(upkeepPath, closed))
	if got := overlay(upkeepPath, list); got != "" {
		t.Errorf("back from the task: %q", got)
	}
	again, _ = state.Reduce(list, linked(at))
	if got := overlay(upkeepPath, again); got != asked(at) {
		t.Errorf("from the list %v opens %q", at, got)
	}
}
