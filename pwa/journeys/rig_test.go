//go:build browser

package journeys

import (
	"fmt"
	"testing"

	"torchside/pwa/journeys/browsertest"
)

// Definitions: NIST SP 811 (2008), appendix B.8. Written out here so that the units of the app are not compared with themselves.
const (
	psi  = 6894.757293168 // Pa
	inch = 0.0254         // m
	foot = 12 * inch
)

// typed is one field of a form and what a person puts into it.
type typed struct {
	act  string
	text string
}

// part is one part of the rig as it is entered by hand: the control that begins it, taps on choices, then texts.
type part struct {
	add   string
	taps  []string
	texts []typed
}

// handRig is an invented rig as its owner types it: pressures in psi, hoses in inches and feet, weights in kilograms, holes as
// drill sizes. handRigSI is the same rig in SI, turned by hand.
var handRig = []part{
	{add: "rig-add-cylinder-oxygen", texts: []typed{{"rig-water_volume", "20 L"}, {"rig-gauge_pressure", "2000 psi"}}},
	{add: "rig-add-cylinder-fuel", texts: []typed{{"rig-gross_mass", "38.6 kg"}, {"rig-tare_mass", "34,2 kg"}, {"rig-full_mass", "4.8 kg"}}},
	{add: "rig-add-regulator-oxygen", texts: []typed{{"rig-max_gauge", "100 psi"}}},
	{add: "rig-add-regulator-fuel", texts: []typed{{"rig-max_gauge", "30 psi"}}},
	{add: "rig-add-hose-oxygen", texts: []typed{{"rig-inside_diameter", "1/4 in"}, {"rig-length", "25 ft"}}},
	{add: "rig-add-hose-fuel", taps: []string{"rig-grade-R"}, texts: []typed{{"rig-inside_diameter", `1/4"`}, {"rig-length", "25 ft"}}},
	{add: "rig-add-torch", taps: []string{"rig-mixing-equal_pressure"}, texts: []typed{{"rig-name", "Old faithful"}}},
	{add: "rig-add-tip", texts: []typed{{"rig-name", "No. 0"}, {"rig-orifice_diameter", "#65"}}},
	{add: "rig-add-tip", texts: []typed{{"rig-name", "No. 1"}, {"rig-orifice_diameter", "#60"}}},
	{add: "rig-add-tip", texts: []typed{{"rig-name", "No. 2"}, {"rig-orifice_diameter", "#55"}}},
}

// handRigSI is handRig as the command line takes it. Drills 65, 60 and 55 are 0.0350, 0.0400 and 0.0520 in (ASME B94.11M).
func handRigSI() map[string]any {
	hose := func(grade string) map[string]any {
		h := map[string]any{"inside_diameter_m": 0.25 * inch, "length_m": 25 * foot}
		if grade != "" {
			h["grade"] = grade
		}
		return h
	}
	tip := func(label string, hole float64) map[string]any {
		return map[string]any{"label": label, "orifice_diameter_m": hole * inch, "fuels": []string{"acetylene"}}
	}
	return map[string]any{
		"oxygen_cylinder":  map[string]any{"water_volume_m3": 0.020, "gauge_pressure_pa": 2000 * psi},
		"fuel_cylinder":    map[string]any{"fuel": "acetylene", "gross_mass_kg": 38.6, "tare_mass_kg": 34.2, "full_mass_kg": 4.8},
		"oxygen_regulator": map[string]any{"max_gauge_pa": 100 * psi},
		"fuel_regulator":   map[string]any{"max_gauge_pa": 30 * psi},
		"oxygen_hose":      hose(""),
		"fuel_hose":        hose("R"),
		"torch":            map[string]any{"mixing": "equal_pressure"},
		"tips":             []any{tip("No. 0", 0.0350), tip("No. 1", 0.0400), tip("No. 2", 0.0520)},
	}
}

// fresh starts a server and a browser nobody has used, and accepts the safety notice.
func fresh(t testing.TB) (*browsertest.Server, *browsertest.Profile, *browsertest.Page) {
	t.Helper()
	server := browsertest.NewServer(t)
	profile := browsertest.NewProfile(t, server)
	page := profile.Open("/")
	accept(page)
	return server, profile, page
}

// accept reads the safety notice and goes on, past the first steps where they are offered.
func accept(p *browsertest.Page) {
	p.Wants("safety-notice", "maker comes first")
	p.Tap("notice-accept")
	p.Lacks("notice-accept")
	saved(p)
	if browsertest.Eval[bool](p, `!!document.querySelector('[data-act="guide-skip"]')`) {
		saving(p, func() { p.Tap("guide-skip") })
		p.Lacks("guide-skip")
	}
}

// saved waits until the app says that the newest change is stored.
func saved(p *browsertest.Page) { p.Wants("saved", "Saved on this device") }

// saving makes one change and waits until that change is saved: the word alone may still be that of the change before.
func saving(p *browsertest.Page, change func()) {
	const count = `+document.querySelector('[data-val="saved"]').dataset.count`
	before := browsertest.Eval[int](p, count)
	change()
	p.Wait("the change is saved", fmt.Sprintf("%s > %d", count, before))
	saved(p)
}

// enter fills in the form of one part and saves it.
func enter(p *browsertest.Page, one part) {
	p.Tap(one.add)
	for _, act := range one.taps {
		p.Tap(act)
	}
	for _, f := range one.texts {
		p.Type(f.act, f.text)
	}
	p.Tap("rig-save")
	p.Lacks("rig-save")
	saved(p)
}

// enterRig enters handRig on the Rig page.
func enterRig(p *browsertest.Page) {
	goTo(p, "rig")
	for _, one := range handRig {
		enter(p, one)
	}
}

// goTo goes to one of the five places and waits until it is there.
func goTo(p *browsertest.Page, place string) {
	act := "nav-" + place
	p.Tap(act)
	p.Wait("the place "+place+" is open", `document.querySelector("[data-act=`+act+`]")?.getAttribute("aria-current") === "page"`)
}

// ask asks Setup for welding mild steel of the given thickness, a butt joint, and leaves the card in view.
func ask(p *browsertest.Page, thickness string) {
	goTo(p, "setup")
	p.Wait("the question is shown", `!!document.querySelector("[data-act=setup-edit], [data-act=setup-thickness]")`)
	if p.Has("setup-edit") {
		p.Tap("setup-edit")
	}
	p.Tap("setup-work-weld")
	p.Tap("setup-metal-mild_steel")
	p.Type("setup-thickness", thickness)
	p.Tap("setup-joint-butt")
	p.Tap("setup-done")
	p.Wants("setup-edit")
}
