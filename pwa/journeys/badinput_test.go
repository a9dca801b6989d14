//go:build browser

package journeys

import (
	"testing"

	"torchside/pwa/journeys/browsertest"
)

// badField is a text that cannot be right, typed into one field of an otherwise good form, and words of the message that must
// follow: what was read, what is allowed, why.
type badField struct {
	act  string
	bad  string
	good string
	says []string
}

// Whatever is typed into Setup, the message says what was read, what is allowed and why, and the last good card stays, marked
// as the earlier one.
func TestBadInputInSetup(t *testing.T) {
	_, _, page := fresh(t)
	enterRig(page)
	ask(page, "1/8 in")
	card := cardText(page)
	page.Tap("setup-edit")
	page.Tap("setup-more")
	for _, b := range []badField{
		{"setup-thickness", "0", "1/8 in", []string{"Thickness", "0", "allowed"}},
		{"setup-thickness", "-3", "1/8 in", []string{"-3", "allowed"}},
		{"setup-thickness", "abc", "1/8 in", []string{"abc", "not understood", "allowed"}},
		{"setup-thickness", "1/0", "1/8 in", []string{"1/0", "allowed"}},
		{"setup-thickness", "4 km", "1/8 in", []string{"4 km", "allowed"}},
		{"setup-temperature", "-300 °C", "20 °C", []string{"-300 °C", "allowed"}},
		{"setup-ratio", "9", "1.1", []string{"9", "allowed"}},
	} {
		page.Paste(b.act, b.bad)
		refusesField(page, b)
		page.Wait("the earlier card stands, marked as such", `!!document.querySelector("[data-stale]")`)
		sameCard(t, page, card)
		page.Paste(b.act, b.good)
		page.Wait("the message goes", `document.getElementById(`+quote(b.act+"-error")+`).innerText === ""`)
		page.Wait("the card is today's again", `!document.querySelector("[data-stale]")`)
	}
}

// refusesField waits for the message of a field and looks whether the typed text is still there.
func refusesField(p *browsertest.Page, b badField) {
	id := quote(b.act + "-error")
	for _, words := range b.says {
		p.Wait(b.act+" says "+words+" about "+b.bad, `document.getElementById(`+id+`).innerText.replaceAll("−", "-").includes(`+quote(words)+`)`)
	}
	p.Wants(b.act, b.bad)
}

// A part with something wrong is not saved: the message stands at its field, the other fields stay as typed, and what was saved
// before is as it was.
func TestBadInputInTheRig(t *testing.T) {
	_, _, page := fresh(t)
	enterRig(page)
	before := rigText(page)
	for _, c := range []struct {
		name  string
		begin string
		other typed // a field that must keep its text
		set   []typed
		bad   badField
	}{
		{"cylinder at 500 bar", "rig-add-cylinder-oxygen", typed{"rig-water_volume", "20 L"}, nil,
			badField{act: "rig-gauge_pressure", bad: "500 bar", says: []string{"500 bar", "allowed", "300 bar"}}},
		{"a comma that may be a thousand mark", "rig-add-cylinder-oxygen", typed{"rig-water_volume", "20 L"}, nil,
			badField{act: "rig-gauge_pressure", bad: "2,200 psi", says: []string{"2200 psi or 2.2 psi", "thousand mark", "allowed"}}},
		{"hose of no length", "rig-add-hose-oxygen", typed{"rig-inside_diameter", "1/4 in"}, nil,
			badField{act: "rig-length", bad: "0 m", says: []string{"0 m", "allowed", "length"}}},
		{"tip larger than the hose", "rig-add-tip", typed{"rig-name", "Rosebud"}, []typed{{"rig-orifice_count", "4"}},
			badField{act: "rig-orifice_diameter", bad: "5 mm", says: []string{"5 mm", "allowed", "hose"}}},
	} {
		page.Tap(c.begin)
		page.Type(c.other.act, c.other.text)
		for _, s := range c.set {
			page.Type(s.act, s.text)
		}
		page.Type(c.bad.act, c.bad.bad)
		refusesSaving(t, page, c.name, c.other, c.bad, before)
	}
}

// The rows of a maker's chart are checked like everything else.
func TestBadInputInTheChart(t *testing.T) {
	_, _, page := fresh(t)
	goTo(page, "rig")
	enter(page, part{add: "rig-add-tip", texts: []typed{{"rig-name", "No. 1"}, {"rig-orifice_diameter", "1 mm"}}})
	before := rigText(page)
	row := hookStarting(t, page, "rig-add-chart_row-")
	for _, c := range []struct {
		name string
		set  []typed
		bad  badField
	}{
		{"a range that is turned round", []typed{{"rig-oxygen_low", "0.5 bar"}},
			badField{act: "rig-oxygen_high", bad: "0.3 bar", says: []string{"0.5 bar", "0.3 bar", "smaller number first"}}},
		{"acetylene above 15 psi", []typed{{"rig-fuel_low", "5 psi"}},
			badField{act: "rig-fuel_high", bad: "20 psi", says: []string{"20 psi", "15 psi"}}},
	} {
		page.Tap(row)
		page.Type("rig-thickness_low", "3 mm")
		for _, s := range c.set {
			page.Type(s.act, s.text)
		}
		page.Type(c.bad.act, c.bad.bad)
		refusesSaving(t, page, c.name, typed{"rig-thickness_low", "3 mm"}, c.bad, before)
	}
}

// refusesSaving tries to save the open form and puts it away again.
func refusesSaving(t *testing.T, p *browsertest.Page, name string, other typed, bad badField, before string) {
	t.Helper()
	p.Tap("rig-save")
	p.Wants("form-problem", "Nothing is saved")
	p.LacksText("Saved on this device")
	refusesField(p, bad)
	p.Wants(other.act, other.text)
	p.Tap("rig-cancel")
	p.Lacks("rig-save")
	p.Reload()
	if got := rigText(p); got != before {
		t.Errorf("%s: the rig has changed:\n%s\nwas:\n%s", name, got, before)
	}
}

// Refusals name the way out, and the last good card stays: no tip that fits, a fuel that cannot weld steel, a hose that does not
// suit its fuel.
func TestRefusals(t *testing.T) {
	_, _, page := fresh(t)
	page.Wants("setup-missing", "A fuel cylinder", "A torch", "A tip")
	page.Type("setup-thickness", "1/8 in")
	page.Wants("setup-missing", "A fuel cylinder")
	enterRig(page)
	ask(page, "1/8 in")
	card := cardText(page)
	page.Tap("setup-edit")

	page.Type("setup-thickness", "6 mm")
	refuses(page, "tip")
	sameCard(t, page, card)
	page.Type("setup-thickness", "1/8 in")
	page.Lacks("setup-why")

	goTo(page, "rig")
	page.Tap("rig-add-cylinder-fuel")
	page.Choose("rig-gas", "propane")
	page.Type("rig-name", "Propane bottle")
	page.Tap("rig-save")
	page.Lacks("rig-save")
	page.Tap(useOf(t, page, "Propane bottle"))
	saved(page)
	page.Wants("rig-stop", "Stop", "propane", "grade R")
	goTo(page, "setup")
	refuses(page, "propane")
	page.Tap("setup-work-heat")
	refuses(page, "grade")
	page.Reload()
	goTo(page, "rig")
	page.WantsText("Propane bottle")
	page.WantsText("Old faithful")
}

// refuses waits for a refusal that says what is allowed, why and which ways out there are.
func refuses(p *browsertest.Page, about string) {
	p.Wait("there is a refusal about "+about, `[...document.querySelectorAll("[data-refusal]")].some((r) => {
		const said = r.innerText.toLowerCase();
		return said.includes(`+quote(about)+`) && ["read", "allowed", "why"].every((w) => said.includes(w));
	})`)
}

// useOf is the control that takes the part of that name into use.
func useOf(t *testing.T, p *browsertest.Page, name string) string {
	t.Helper()
	act := browsertest.Eval[string](p, `[...document.querySelectorAll(".rig-part")].find((e) => e.innerText.includes(`+quote(name)+`))
		?.querySelector("[data-act^=rig-use-]")?.dataset.act ?? ""`)
	if act == "" {
		t.Fatalf("%s cannot be taken into use", name)
	}
	return act
}

// hookStarting is the one data-act on the page that starts with the given words.
func hookStarting(t *testing.T, p *browsertest.Page, start string) string {
	t.Helper()
	found := `document.querySelectorAll("[data-act^='` + start + `']")`
	p.Wait("there is one control that starts with "+start, found+`.length === 1`)
	return browsertest.Eval[string](p, found+`[0].dataset.act`)
}

// rigText is what the Rig page lists.
func rigText(p *browsertest.Page) string {
	goTo(p, "rig")
	p.Wait("the list of parts is shown", `document.querySelectorAll(".rig-group").length > 0`)
	return browsertest.Eval[string](p, `[...document.querySelectorAll(".rig-group")].map((g) => g.innerText).join("\n")`)
}
