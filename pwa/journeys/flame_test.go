//go:build browser

package journeys

import (
	"encoding/json"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"torchside/pwa/journeys/browsertest"
)

// Somebody with no network drags the slider from a carburizing to an oxidizing flame: name, temperature and contents follow, the
// feather goes, and the page is the same after a reload.
func TestFlameUnderTheSlider(t *testing.T) {
	server, profile, page := fresh(t)
	page.Tap("setup-sample")
	page.Wants("sample", "Sample rig")
	ask(page, "1/8 in")
	page.Cached()
	server.Stop()
	profile.Expect("ERR_CONNECTION_REFUSED")
	page.Tap("to-flame")
	page.Wants("flame.tip", "SAMPLE 14")
	page.Reload()
	page.Wants("flame.tip", "SAMPLE 14")

	page.Tap("flame-carburizing")
	page.Wants("flame.class", "Carburizing")
	if !hasFeather(page) {
		t.Error("a carburizing flame without a feather")
	}
	rich := degrees(t, page)
	page.Drag("flame-ratio", 0.8, 40)
	page.Wants("flame.class", "Oxidizing")
	settled(page)
	lean := degrees(t, page)
	if rich == lean {
		t.Errorf("%v before and after the drag", rich)
	}
	if hasFeather(page) {
		t.Error("an oxidizing flame with a feather")
	}
	agreesWithCompute(t, page, lean)
	page.Wants("flame.use", "brass")
	page.Wants("flame.misuse", "sparks")
	page.Tap("flame-less")
	page.Tap("flame-neutral")
	page.Wants("flame.class", "Neutral")
	page.Wants("flame.printed", "more than chemical equilibrium allows")
}

// settled waits until the flame shown is that of the slider: while a finger drags, and on a slow machine after it, the last moves
// are still being drawn.
func settled(p *browsertest.Page) {
	p.Wait("the flame is that of the slider", `(() => {
		const slider = +document.querySelector("[data-act=flame-ratio]").value / 100;
		const shown = parseFloat(document.querySelector('[data-val="flame.ratio"]').textContent);
		const was = window.settledAt; window.settledAt = slider;
		return slider === shown && slider === was;
	})()`)
}

// hasFeather reports whether the drawing has one.
func hasFeather(p *browsertest.Page) bool {
	return browsertest.Eval[bool](p, `!!document.querySelector(".flame-feather")`)
}

var shownDegrees = regexp.MustCompile(`^(\d+) °C$`)

// degrees is the temperature on the page.
func degrees(t *testing.T, p *browsertest.Page) float64 {
	t.Helper()
	m := shownDegrees.FindStringSubmatch(p.Text("flame.temperature"))
	if m == nil {
		t.Fatalf("the temperature reads %q", p.Text("flame.temperature"))
	}
	v, err := strconv.ParseFloat(m[1], 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// agreesWithCompute compares the temperature with the command line's for the ratio on the page, within the rounding to a degree.
func agreesWithCompute(t *testing.T, p *browsertest.Page, shown float64) {
	t.Helper()
	ratio := strings.TrimSuffix(p.Text("flame.ratio"), " to 1")
	question := fmt.Sprintf(`{"fuel":"acetylene","oxidizer":"oxygen","oxidizer_fuel_ratio":%s,"temperature_k":293.15,"abs_pressure_pa":101325}`, ratio)
	var a struct {
		TemperatureK float64 `json:"temperature_k"`
	}
	if err := json.Unmarshal(browsertest.Compute(t, "flame", []byte(question)), &a); err != nil {
		t.Fatal(err)
	}
	if got := a.TemperatureK - 273.15; got < shown-0.51 || got > shown+0.51 {
		t.Errorf("the page shows %v °C at %s, the command line %v", shown, ratio, got)
	}
}

// What the flame looks like at three ratios on two tips: the cone is longer for the bigger flow, the feather vanishes at neutral,
// and everything fits every width.
func TestFlamePictures(t *testing.T) {
	_, _, page := fresh(t)
	page.Tap("setup-sample")
	page.Wants("sample", "Sample rig")
	cones := map[string][]float64{}
	for _, tip := range []struct{ thickness, name string }{{"1.5 mm", "SAMPLE 10"}, {"1/8 in", "SAMPLE 14"}} {
		ask(page, tip.thickness)
		page.Wants("tip", tip.name)
		page.Tap("to-flame")
		page.Wants("flame.tip", tip.name)
		for _, ratio := range []string{"0.9", "1.1", "1.5"} {
			slideTo(page, ratio)
			page.Wants("flame.ratio", ratio+" to 1")
			if want := ratio == "0.9"; hasFeather(page) != want {
				t.Errorf("%s at %s: feather %v", tip.name, ratio, !want)
			}
			cones[tip.name] = append(cones[tip.name], coneLength(t, page))
			shots(page, "flame-"+strings.ReplaceAll(tip.name, " ", "")+"-"+ratio)
		}
	}
	for i := range cones["SAMPLE 10"] {
		if cones["SAMPLE 14"][i] <= cones["SAMPLE 10"][i] {
			t.Errorf("cones in mm: %v", cones)
		}
	}
}

// slideTo puts the thumb at a ratio as a drag that ends there does.
func slideTo(p *browsertest.Page, ratio string) {
	browsertest.Eval[bool](p, `(() => {
		const s = document.querySelector("[data-act=flame-ratio]");
		s.value = Math.round(`+ratio+` * 100);
		s.dispatchEvent(new Event("input", { bubbles: true }));
		return s.dispatchEvent(new Event("change", { bubbles: true }));
	})()`)
}

// coneLength is the cone's length on the page in mm.
func coneLength(t *testing.T, p *browsertest.Page) float64 {
	t.Helper()
	text := strings.TrimSuffix(p.Text("flame.cone_length_m"), " mm")
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatalf("the cone reads %q", text)
	}
	return v
}

// countFlames counts how often the slider moves and how often the flame is drawn for it, and how long after the move.
const countFlames = `(() => {
	let moved = 0, drawn = 0, at = 0, waits = [];
	const slider = document.querySelector("[data-act=flame-ratio]");
	slider.addEventListener("input", () => { moved++; at = performance.now(); }, { capture: true });
	new MutationObserver(() => { drawn++; waits.push(performance.now() - at); })
		.observe(document.querySelector("[data-val='flame.ratio']"), { subtree: true, characterData: true, childList: true });
	window.flamesDrawn = () => {
		waits.sort((a, b) => a - b);
		const middle = waits[waits.length >> 1] ?? 0, late = waits[Math.floor(waits.length * 0.95)] ?? 0;
		return moved + " moves, " + drawn + " flames drawn, " + middle.toFixed(1) + " ms after the move, 95 % within " + late.toFixed(1) + " ms";
	};
	return true;
})()`

// How smooth a drag is on a slow phone: reported, not judged, because a busy machine is no phone.
func TestFlameDragOnASlowPhone(t *testing.T) {
	_, _, page := fresh(t)
	page.Tap("setup-sample")
	page.Wants("sample", "Sample rig")
	ask(page, "1/8 in")
	for _, place := range []string{"card", "page"} {
		if place == "page" {
			page.Tap("to-flame")
			page.Wants("flame.tip", "SAMPLE 14")
		}
		page.Tap("flame-carburizing")
		page.Wants("flame.class", "Carburizing")
		page.SlowCPU(4)
		browsertest.Eval[bool](page, countFlames)
		count, mean, longest := page.Frames(func() {
			page.Drag("flame-ratio", 0.9, 120)
		})
		page.SlowCPU(1)
		page.Wants("flame.class", "Oxidizing")
		t.Logf("dragging on the %s at CPU 4x: %d pictures, one in %.1f ms (%.0f a second), the longest wait %.1f ms; %s",
			place, count, mean.Seconds()*1e3, 1/mean.Seconds(), longest.Seconds()*1e3, browsertest.Eval[string](page, `window.flamesDrawn()`))
	}
}
