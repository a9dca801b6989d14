package state

import (
	"errors"
	"math"
	"os"
	"strings"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/units"
)

// withOrders is a world whose orders of work are read.
func withOrders(t *testing.T) *world {
	t.Helper()
	w := newWorld(t)
	text, err := os.ReadFile("../../web/static/orders.json")
	if err != nil {
		t.Fatal(err)
	}
	w.post(OrdersAsked{})
	if e, ok := w.effects[len(w.effects)-1].(ReadStatic); !ok || e.Address != ordersFile {
		t.Fatalf("asked for %+v", w.effects[len(w.effects)-1])
	}
	w.post(StaticRead{Address: "/web/other.json", Data: []byte("not ours")})
	w.post(StaticRead{Address: ordersFile, Data: text})
	if !w.app.Orders.Ready {
		t.Fatal(w.app.Orders.Problem)
	}
	return w
}

// stepOf opens the step of this name in an order.
func (w *world) stepOf(order, step string) StepView {
	w.t.Helper()
	w.post(OrderOpened{ID: order})
	for _, s := range w.app.Orders.View.Steps {
		if s.ID == step {
			return s
		}
	}
	w.t.Fatalf("%s has no step %s", order, step)
	return StepView{}
}

// One goes through the steps to the end, and not over it; an order that does not exist is said, not shown.
func TestOrders_step_by_step(t *testing.T) {
	w := withOrders(t)
	w.post(OrderOpened{ID: "close", Step: 3})
	n := len(w.app.Orders.View.Steps)
	for _, c := range []struct{ by, want int }{{1, 4}, {-1, 3}, {100, n}, {-1000, 1}} {
		w.post(OrderStepped{By: c.by})
		if w.app.Orders.Step != c.want {
			t.Errorf("by %d: at %d, want %d", c.by, w.app.Orders.Step, c.want)
		}
	}
	w.post(OrderOpened{ID: "close", Step: -7})
	if w.app.Orders.Step != 1 {
		t.Errorf("opened at %d", w.app.Orders.Step)
	}
	w.post(OrderOpened{ID: "dance"})
	if w.app.Orders.View != nil || w.app.Orders.ID != "" || !strings.Contains(w.app.Orders.Problem, "dance") {
		t.Errorf("an unknown order: %+v", w.app.Orders)
	}
	w.post(OrderOpened{ID: "light"})
	w.post(OrderClosed{})
	if w.app.Orders.View != nil || w.app.Orders.Problem != "" {
		t.Errorf("closed: %+v", w.app.Orders)
	}
}

// A text that cannot be read says so; asking again helps when it can.
func TestOrders_text_that_cannot_be_read(t *testing.T) {
	w := newWorld(t)
	for _, m := range []StaticRead{{Address: ordersFile, Err: errors.New("no signal")}, {Address: ordersFile, Data: []byte("{")}, {Address: ordersFile, Data: []byte(`{"orders":[]}`)}} {
		w.post(m)
		if w.app.Orders.Ready || !strings.HasPrefix(w.app.Orders.Problem, "The orders of work could not be read: ") {
			t.Errorf("%+v: %+v", m, w.app.Orders)
		}
	}
	w.post(OrderOpened{ID: "light", Step: 4}) // a link that comes before the text
	text, err := os.ReadFile("../../web/static/orders.json")
	if err != nil {
		t.Fatal(err)
	}
	w.post(StaticRead{Address: ordersFile, Data: text})
	if w.app.Orders.View == nil || w.app.Orders.Step != 4 {
		t.Errorf("the link was forgotten: %+v", w.app.Orders)
	}
}

// The owner's choice is kept with the torch in use, over a reload, and holds in every order; another torch has its own.
func TestOrders_choice_is_kept_with_the_torch(t *testing.T) {
	w := withOrders(t)
	if v := w.stepOf("close", "fuel-shut"); v.Choice == nil || v.Choice.Torch != "" || v.Choice.Selected != "fuel" {
		t.Errorf("without a torch: %+v", v.Choice)
	}
	w.post(OrderChosen{Choice: "shut_first", Value: "oxygen"}) // nothing to keep it with
	w.stepOf("close", "fuel-shut")
	w.add(KindTorch, "", "mixing", "injector", "name", "Small one")
	if v := w.stepOf("close", "fuel-shut"); v.Choice.Torch != "Small one" {
		t.Errorf("the choice is of %q", v.Choice.Torch)
	}
	w.post(OrderChosen{Choice: "shut_first", Value: "sideways"})
	w.stepOf("close", "fuel-shut")
	w.post(OrderChosen{Choice: "shut_first", Value: "oxygen"})
	w.stepOf("pause", "oxygen-shut")
	text, err := os.ReadFile("../../web/static/orders.json")
	if err != nil {
		t.Fatal(err)
	}
	w.restart()
	w.post(StaticRead{Address: ordersFile, Data: text})
	w.stepOf("close", "oxygen-shut")
	w.stepOf("light", "suction")
	w.add(KindTorch, "", "mixing", "equal_pressure", "name", "Big one")
	for id, p := range w.app.Rig.parts {
		if p.Name == "Big one" {
			w.post(PartUsed{ID: id})
		}
	}
	w.stepOf("close", "fuel-shut")
	w.post(OrderOpened{ID: "light"})
	for _, s := range w.app.Orders.View.Steps {
		if s.ID == "suction" {
			t.Error("an equal-pressure torch is to suck")
		}
	}
	if first := w.stepOf("squeals", "oxygen-shut"); first.ID != w.app.Orders.View.Steps[0].ID || w.app.Orders.View.Begin == nil {
		t.Error("a flashback must begin with the way out and the oxygen valve")
	}
}

// The numbers of the steps are those of the settings card for the tip, and the purge is five hose volumes at the tip's flow.
func TestOrders_numbers_of_the_rig(t *testing.T) {
	w := withOrders(t)
	if n := w.stepOf("light", "oxygen-set").Numbers; n == nil || n.Missing == "" || len(n.Figures) > 0 {
		t.Fatalf("without a card: %+v", n)
	}
	w.post(SampleAdded{})
	w.post(SetupTyped{Field: "thickness", Text: "1/8 in"})
	card := w.app.Setup.Card
	if card == nil {
		t.Fatal("the sample rig has no card")
	}
	oxygen, fuel := w.stepOf("light", "oxygen-set").Numbers.Figures[0], w.stepOf("setup", "fuel-set").Numbers.Figures[0]
	calctest.Near(t, oxygen.SI, card.Oxygen.RegulatorGaugePa, 0, "the number of the card")
	calctest.Near(t, fuel.SI, card.Fuel.RegulatorGaugePa, 0, "the number of the card")
	if !fuel.Capped || oxygen.Capped {
		t.Error("the limit of acetylene is for the fuel alone")
	}
	if tip := w.stepOf("light", "tip").Numbers.Figures[0].Words; tip != card.Tip {
		t.Errorf("tip %q, the card fits %q", tip, card.Tip)
	}
	hose := w.app.hoseSI(LineFuel)
	boyle := 5 * math.Pi / 4 * hose.InsideDiameterM * hose.InsideDiameterM * hose.LengthM * (card.Fuel.RegulatorGaugePa + 101325) / 101325 *
		float64(units.StandardTemperature) / 293.15 / card.Fuel.FlowStdM3S
	purge := w.stepOf("light", "fuel-purge").Numbers.Figures[0].SI
	if purge < boyle*0.99 || purge > boyle*1.01+1 {
		t.Errorf("purge %.1f s, by Boyle's law %.1f s, rounded up", purge, boyle)
	}
	w.post(SetupTyped{Field: "thickness", Text: "nonsense"})
	if n := w.stepOf("light", "oxygen-set").Numbers; n.Missing == "" {
		t.Error("a card that answers another question lends its numbers")
	}
	w.post(SetupTyped{Field: "thickness", Text: "1/8 in"})
	if n := w.stepOf("light-cutting", "oxygen-set-cutting").Numbers; n.Missing == "" {
		t.Error("a card for welding lends its numbers to a cutting head")
	}
	for _, g := range w.app.Rig.Groups {
		for _, p := range g.Parts {
			if p.Kind == KindHose && p.Line == LineFuel {
				w.post(PartDeleted{ID: p.ID})
			}
		}
	}
	if n := w.stepOf("light", "fuel-purge").Numbers; n.Where != "/rig" || !strings.Contains(n.Missing, "26 s") {
		t.Errorf("without a hose: %+v", n)
	}
}

// Reading aloud speaks what is shown, the caution first, and ends with the order.
func TestOrders_aloud(t *testing.T) {
	w := withOrders(t)
	w.post(OrderOpened{ID: "setup"})
	said := func() string {
		for i := len(w.effects) - 1; i >= 0; i-- {
			if r, ok := w.effects[i].(ReadAloud); ok {
				return r.Text
			}
		}
		return "nothing was ever read"
	}
	w.post(OrderStepped{By: 1})
	if said() != "nothing was ever read" {
		t.Error("it reads before it is asked to")
	}
	w.post(OrderAloudToggled{})
	if !strings.HasPrefix(said(), "Step 2. ") {
		t.Errorf("read: %q", said())
	}
	at := 0
	for i, s := range w.app.Orders.View.Steps {
		if s.ID == "acetylene-open" {
			at = i + 1
		}
	}
	w.post(OrderOpened{ID: "setup", Step: at})
	caution, do := strings.Index(said(), "Caution: Never more than one and a half turns"), strings.Index(said(), "Open the acetylene")
	if caution < 0 || do < caution || !strings.Contains(said(), "Acetylene only.") {
		t.Errorf("read: %q", said())
	}
	w.post(OrderWholeToggled{})
	if !strings.Contains(said(), "Step 1. ") || !strings.Contains(said(), "leak fluid") {
		t.Errorf("the whole was read as %q", said())
	}
	w.post(OrderClosed{})
	if said() != "" || w.app.Orders.Aloud {
		t.Errorf("after the end: %q", said())
	}
}
