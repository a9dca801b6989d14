package state

import (
	"errors"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"torchside/calc/calctest"
)

// ordersText is the file of the orders of work as it is sent.
func ordersText(t *testing.T) []byte {
	t.Helper()
	data, err := os.ReadFile("../../web/static/orders.json")
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// The card has a row for every work the rig suits, with what Setup says of it, and the orders in short, the emergency first.
func TestWall_saysWhatSetupSays(t *testing.T) {
	w := leakWorld(t)
	w.post(WallShown{})
	w.post(StaticRead{Address: ordersFile, Data: ordersText(t)})
	c := w.app.Wall
	if len(c.Rows) < 3 || c.Problem != "" || c.GetOut.Title == "" {
		t.Fatalf("%+v", c)
	}
	for _, one := range [][2]string{{"work", "weld"}, {"metal", "mild_steel"}, {"joint", "butt"}} {
		w.post(SetupChosen{Field: one[0], Value: one[1]})
	}
	w.post(SetupTyped{Field: "thickness", Text: "1.5 mm"})
	card := w.app.Setup.Card
	i := slices.IndexFunc(c.Rows, func(r WallRow) bool { return r.Work == "Weld steel" && r.Thickness == "1.5 mm" })
	if i < 0 || c.Rows[i].Tip != card.Tip || c.Rows[i].Oxygen != w.app.pressureText(card.Oxygen.RegulatorGaugePa) || c.Rows[i].From == "" {
		t.Errorf("%+v, Setup says %s %v", c.Rows, card.Tip, card.Oxygen.RegulatorGaugePa)
	}
	var ids []string
	for _, o := range c.Orders {
		ids = append(ids, o.ID)
		if len(o.Steps) == 0 {
			t.Errorf("%s has no steps", o.ID)
		}
	}
	if !slices.Equal(ids, []string{"squeals", "popped", "light", "light-cutting", "close"}) || !c.Orders[0].Emergency {
		t.Errorf("orders %q", ids)
	}
}

// A rig that is not complete has no rows and says what is missing; orders that cannot be read are said, and asked for again.
func TestWall_saysWhatIsMissing(t *testing.T) {
	w := dated(t, "2031-05-10")
	w.post(WallShown{})
	if c := w.app.Wall; len(c.Rows) != 0 || !strings.Contains(c.Missing, "torch") || len(c.Limits) == 0 {
		t.Errorf("%+v", c)
	}
	for _, m := range []StaticRead{{Err: errors.New("no network")}, {Data: []byte("{")}, {Data: []byte("null")}} {
		m.Address = ordersFile
		w.post(WallShown{})
		w.post(m)
		if c := w.app.Wall; c.Problem == "" || len(c.Orders) != 0 {
			t.Errorf("%s: %+v", m.Data, c)
		}
	}
	w.seen()
	w.post(WallShown{})
	if !slices.ContainsFunc(w.effects, func(e Effect) bool { r, ok := e.(ReadStatic); return ok && r.Address == ordersFile }) {
		t.Error("not asked for again")
	}
}

// The figures on the card are the printed ones.
func TestWall_limitsAsPrinted(t *testing.T) {
	w := leakWorld(t)
	w.post(WallShown{})
	text := ""
	for _, l := range w.app.Wall.Limits {
		if l.Source == "" {
			t.Errorf("%q has no source", l.Text)
		}
		text += l.Text + "\n"
	}
	for id, says := range map[string]string{"ACE-P1": " psi", "HOT-2": " minutes", "HOT-3": " ft"} {
		row := calctest.Where(t, calctest.Reference(t, "limits.csv"), "id", id)[0]
		if want := row.Text("value_us") + says; !strings.Contains(text, want) {
			t.Errorf("%s: no %q in\n%s", id, want, text)
		}
	}
	if !strings.Contains(text, "1 1/2") || !strings.Contains(text, "3/4 turn") { // ACE-V1 1.5, ACE-V2 0.75
		t.Error("the turns of the acetylene valve are missing")
	}
}

// A cutting tip brings its rows, as Setup gives them, and the steps of both heads; a rig without one has neither. Heating and
// bending stand in one row, because Setup says the same of both.
func TestWall_holdsCuttingAndBending(t *testing.T) {
	w := leakWorld(t)
	show := func() Wall {
		w.post(WallShown{})
		w.post(StaticRead{Address: ordersFile, Data: ordersText(t)})
		return w.app.Wall
	}
	row := func(c Wall, work, thickness string) WallRow {
		i := slices.IndexFunc(c.Rows, func(r WallRow) bool { return r.Work == work && r.Thickness == thickness })
		if i < 0 {
			t.Fatalf("no row %s %s in %+v", work, thickness, c.Rows)
		}
		return c.Rows[i]
	}
	cutting := func(c Wall) string {
		for _, o := range c.Orders {
			if o.ID == orderLightCutting {
				return strings.Join(o.Steps, "\n")
			}
		}
		return ""
	}
	with := show()
	for work, name := range map[string]string{"cut": "Cut steel", "bend": "Heat or bend steel", "heat": "Heat or bend steel"} {
		w.post(SetupChosen{Field: "work", Value: work})
		w.post(SetupChosen{Field: "metal", Value: "mild_steel"})
		w.post(SetupTyped{Field: "thickness", Text: "12 mm"})
		card := w.app.Setup.Card
		if card == nil {
			t.Fatalf("%s: Setup gives no card: %+v", work, w.app.Setup.Refusal)
		}
		got := row(with, name, "12 mm")
		if got.Tip != card.Tip || got.Oxygen != w.app.pressureText(card.Oxygen.RegulatorGaugePa) || got.Fuel != w.app.pressureText(card.Fuel.RegulatorGaugePa) {
			t.Errorf("%s: the row is %+v, Setup says tip %s, %.0f and %.0f Pa", work, got, card.Tip, card.Oxygen.RegulatorGaugePa, card.Fuel.RegulatorGaugePa)
		}
	}
	if text := cutting(with); !strings.Contains(text, "cutting lever") || strings.Contains(text, "Close all torch valves") {
		t.Errorf("the steps for the cutting head alone:\n%s", text)
	}
	for _, p := range maps.Clone(w.app.Rig.parts) {
		if p.Kind == KindTip && p.Choices["work"] == "cut" {
			w.post(PartRetired{ID: p.ID})
		}
	}
	without := show()
	if slices.ContainsFunc(without.Rows, func(r WallRow) bool { return r.Work == "Cut steel" }) || cutting(without) != "" {
		t.Errorf("a rig without a cutting tip: %+v\n%s", without.Rows, cutting(without))
	}
}
