package order_test

import (
	"bytes"
	"encoding/json"
	"os"
	"slices"
	"strings"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/order"
)

// shipped is the text that the app ships.
func shipped(t testing.TB) order.Book {
	t.Helper()
	text, err := os.ReadFile("../../web/static/orders.json")
	if err != nil {
		t.Fatal(err)
	}
	b, err := order.Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	strict := json.NewDecoder(bytes.NewReader(text))
	strict.DisallowUnknownFields() // a misspelt name would be a step that is silently for everybody
	if err := strict.Decode(new(order.Book)); err != nil {
		t.Fatal(err)
	}
	return b
}

// rigs are all rigs that the orders tell apart, with every choice.
func rigs() []order.Facts {
	var list []order.Facts
	for _, mixing := range []string{order.MixingEqual, order.MixingInjector, ""} {
		for _, fuel := range []string{order.FuelAcetylene, order.FuelOther, ""} {
			for _, shut := range []string{"", "fuel", "oxygen", "no such word"} {
				for _, light := range []string{"", "fuel", "cracked"} {
					list = append(list, order.Facts{"mixing": mixing, "fuel": fuel, "shut_first": shut, "light_first": light})
				}
			}
		}
	}
	return list
}

func steps(t testing.TB, b order.Book, id string, f order.Facts) []order.Step {
	t.Helper()
	list, err := b.Steps(id, f)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// at is where a step stands, -1 when it is not there.
func at(list []order.Step, id string) int {
	return slices.IndexFunc(list, func(s order.Step) bool { return s.ID == id })
}

// Every order the owner may need is there.
func TestBook_holds_every_order(t *testing.T) {
	b := shipped(t)
	for _, id := range []string{"setup", "light", "light-cutting", "pause", "close", "popped", "squeals", "fitting-fire", "warm", "smell", "frozen", "creeping"} {
		for _, f := range rigs() {
			if len(steps(t, b, id, f)) < 3 {
				t.Errorf("%s has only %d steps for %v", id, len(steps(t, b, id, f)), f)
			}
		}
	}
	if _, err := b.Steps("dance", nil); err == nil {
		t.Error("an order that does not exist was found")
	}
}

// The order of the steps that keep people alive, for every rig: the regulator screws are out before a cylinder is opened, each line is
// purged by itself after it is set, and an injector torch shows that it sucks before it gets fuel.
func TestSteps_keep_the_safe_order(t *testing.T) {
	b := shipped(t)
	for _, id := range []string{"setup", "light", "light-cutting"} {
		for _, f := range rigs() {
			list := steps(t, b, id, f)
			oxygenSet, open := "oxygen-set", "acetylene-open"
			if id == "light-cutting" {
				oxygenSet = "oxygen-set-cutting"
			}
			if f["fuel"] == order.FuelOther {
				open = "fuel-open"
			}
			want := []string{"screws-out", "oxygen-open", oxygenSet, "oxygen-purge", open, "fuel-set", "fuel-purge"}
			if f["mixing"] != order.MixingEqual {
				want = slices.Insert(want, 4, "suction")
			}
			last := -1
			for _, step := range want {
				n := at(list, step)
				if n <= last {
					t.Fatalf("%s for %v: %s stands at %d, after what must follow it (%d)", id, f, step, n, last)
				}
				last = n
			}
			if f["mixing"] == order.MixingEqual && at(list, "suction") >= 0 {
				t.Errorf("%s asks an equal-pressure torch to suck", id)
			}
		}
	}
}

// What each dangerous step must say before its number. Rows of limits.csv name the published figures.
func TestSteps_caution_before_the_number(t *testing.T) {
	b := shipped(t)
	injector := order.Facts{"mixing": "injector", "fuel": "acetylene"}
	for _, id := range []string{"setup", "light", "light-cutting"} {
		list := steps(t, b, id, injector)
		for step, words := range map[string][]string{
			"oxygen-open": {"aside", "slowly"}, "oxygen-purge": {"Away from flame"}, "fuel-purge": {"Away from flame"},
			"acetylene-open": {"aside", "key on the valve", "one and a half", "three quarters"}, "fuel-set": {"15 psi"},
		} {
			s := list[at(list, step)]
			if s.Caution == nil {
				t.Errorf("%s, %s has no caution", id, step)
				continue
			}
			for _, w := range words {
				if !strings.Contains(s.Caution.Text+" "+s.Do, w) {
					t.Errorf("%s, %s does not say %q", id, step, w)
				}
			}
		}
		if s := list[at(list, "suction")]; !strings.Contains(s.Do, "sucked") || !strings.Contains(strings.ToLower(s.Do), "fuel hose off") {
			t.Errorf("%s: the suction check is %q", id, s.Do)
		}
	}
}

// The figures in the text are those of the published rules (testdata/reference/limits.csv).
func TestBook_prints_the_published_figures(t *testing.T) {
	rows := map[string]calctest.Row{}
	for _, r := range calctest.Reference(t, "limits.csv") {
		rows[r.ID()] = r
	}
	calctest.Near(t, order.MaxAcetyleneTurns, rows["ACE-V1"].Number("value_us"), 0, "a figure of the rule")
	calctest.Near(t, order.BestAcetyleneTurns, rows["ACE-V2"].Number("value_us"), 0, "a figure of the rule")
	text, err := os.ReadFile("../../web/static/orders.json")
	if err != nil {
		t.Fatal(err)
	}
	for id, words := range map[string]string{
		"ACE-P1": rows["ACE-P1"].Text("value_us") + " psi (" + rows["ACE-P1"].Text("value_si") + " kPa", "HOT-3": rows["HOT-3"].Text("value_us") + " ft",
		"HOT-2": rows["HOT-2"].Text("value_us") + " minutes", "HOT-1": rows["HOT-1"].Text("value_us") + " minutes", "ACE-S1": rows["ACE-S1"].Text("value_us") + " min",
		"ACE-S2": rows["ACE-S2"].Text("value_us") + " min", "ACE-T2": rows["ACE-T2"].Text("value_us") + " °F", "ATM-1": rows["ATM-1"].Text("value_us") + " %",
	} {
		if !strings.Contains(string(text), words) {
			t.Errorf("%s: the text lacks %q", id, words)
		}
	}
	if first := rows["SHUT-1"].Text("value_us"); first != "torch oxygen valve" {
		t.Errorf("the rule for a flashback reads %q", first)
	}
	if first := rows["SHUT-2"].Text("value_us"); first != "torch acetylene valve" {
		t.Errorf("the rule for the normal stop reads %q", first)
	}
}

// At a normal stop the owner's choice holds, fuel first without one; after a pop or a flashback it is oxygen first whatever was chosen
// (testdata/reference/limits.csv, SHUT-1 and SHUT-2).
func TestSteps_which_valve_first(t *testing.T) {
	b := shipped(t)
	for _, f := range rigs() {
		want := "Close the torch fuel valve, then"
		if f["shut_first"] == "oxygen" {
			want = "Close the torch oxygen valve, then"
		}
		for _, id := range []string{"pause", "close"} {
			if s := steps(t, b, id, f)[0]; !strings.HasPrefix(s.Do, want) || s.Choice != "shut_first" {
				t.Errorf("%s for %v begins with %q", id, f, s.Do)
			}
		}
		for _, id := range []string{"popped", "squeals"} {
			if s := steps(t, b, id, f)[0]; !strings.HasPrefix(s.Do, "Close the torch oxygen valve") {
				t.Errorf("%s for %v begins with %q", id, f, s.Do)
			}
		}
	}
}

// A cylinder that may be breaking up, and a fire that its valve does not end, begin with the way out; nothing in these orders sends
// anybody back to a warm cylinder.
func TestBook_begins_with_the_way_out(t *testing.T) {
	b := shipped(t)
	out := strings.ToLower(strings.Join(b.GetOut.Steps, "\n"))
	last := -1
	for _, words := range []string{"get out", "keep people away", "call the fire service", "say “acetylene”"} {
		n := strings.Index(out, words)
		if n <= last {
			t.Errorf("%q is missing or too late in %q", words, out)
		}
		last = n
	}
	for _, words := range []string{"go back", "move", "open", "vent"} {
		if !strings.Contains(b.GetOut.Never, words) {
			t.Errorf("the way out does not forbid to %s it", words)
		}
	}
	for _, id := range []string{"squeals", "fitting-fire", "warm"} {
		if o, _ := b.Order(id); !o.GetOut || !o.Emergency {
			t.Errorf("%s does not begin with the way out", id)
		}
	}
	var ids []string
	for _, s := range steps(t, b, "warm", nil) {
		ids = append(ids, s.ID)
	}
	if got := strings.Join(ids, " "); got != "get-out keep-away call say never after" {
		t.Errorf("a warm cylinder: %s", got)
	}
}

// What is not known of the rig leaves nothing out: the step stays and says for whom it is.
func TestSteps_of_an_unknown_torch(t *testing.T) {
	list := steps(t, shipped(t), "setup", nil)
	if s := list[at(list, "suction")]; s.Only != "Injector torch only" {
		t.Errorf("the suction check is for %q", s.Only)
	}
	if s := list[at(list, "acetylene-open")]; s.Only != "Acetylene only" {
		t.Errorf("the turns are for %q", s.Only)
	}
	list = steps(t, shipped(t), "setup", order.Facts{"mixing": "injector", "fuel": "acetylene"})
	if n := at(list, "hoses"); n >= 0 {
		t.Error("an injector torch gets both hoses at once")
	}
	for _, s := range list {
		if s.Only != "" {
			t.Errorf("%s is for %q although the rig is known", s.ID, s.Only)
		}
	}
}

// Every source is a document, or says that there is none.
func TestBook_names_its_sources(t *testing.T) {
	b := shipped(t)
	known := []string{"common practice", "CFR", "WAC", "NAVEDTRA", "Navy", "TC 9-237", "Army", "NFPA", "Health and Safety Executive", "British Compressed Gases",
		"National Fire Chiefs", "Mine Safety", "CWB Group", "IEC"}
	for _, o := range b.Orders {
		for _, s := range o.Steps {
			sources := []string{s.Source}
			if s.Caution != nil {
				sources = append(sources, s.Caution.Source)
			}
			for _, source := range sources {
				if !slices.ContainsFunc(known, func(k string) bool { return strings.Contains(source, k) }) {
					t.Errorf("%s, %s: what is %q?", o.ID, s.ID, source)
				}
			}
		}
	}
}

// A book with a gap is refused, and the refusal says where.
func TestParse_refuses_gaps(t *testing.T) {
	text, err := os.ReadFile("../../web/static/orders.json")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ old, new, where string }{
		{`"orders": [`, `"orders": [,`, "orders of work"},
		{`"number": "oxygen_pressure"`, `"number": "no_such"`, "step oxygen-set"},
		{`"when": {"mixing": "injector"}`, `"when": {"mixing": "steam"}`, "step hoses-injector"},
		{`"like": "light"`, `"like": "light-cutting"`, "order light-cutting"},
		{`"default": "fuel"`, `"default": "both"`, "choice shut_first"},
		{`"id": "pause"`, `"id": "setup"`, "order setup is there twice"},
		{`"why": "It stops the flashback at once."`, `"why": ""`, "step oxygen-shut"},
		{`"link": "/leak"`, `"link": "http://elsewhere.example"`, "step leak"},
		{`"never": "Never`, `"not_ever": "Never`, "get_out"},
	} {
		broken := strings.Replace(string(text), c.old, c.new, 1)
		if broken == string(text) {
			t.Fatalf("%q is not in the text", c.old)
		}
		if _, err := order.Parse([]byte(broken)); err == nil || !strings.Contains(err.Error(), c.where) {
			t.Errorf("%s: %v, wanted it to name %q", c.new, err, c.where)
		}
	}
}
