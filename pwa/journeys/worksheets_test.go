//go:build browser

package journeys

import (
	"encoding/json"
	"fmt"
	"testing"

	"torchside/pwa/journeys/browsertest"
)

// A garage with galvanised steel: the zinc is told before the number, and fan and air changes are those of "compute ventilation". All of
// it offline, kept over a reload; bad input keeps its text.
func TestVentilationEqualsTheCommandLine(t *testing.T) {
	_, _, page := fresh(t)
	goTo(page, "bench")
	page.Tap("to-air")
	page.Wants("air-length")
	page.Offline(true)
	fillIn(page, typed{"air-length", "20 ft"}, typed{"air-width", "22 ft"}, typed{"air-ceiling", "tall"})
	page.WantsText("“tall” was not understood")
	page.Lacks("air.word")
	page.Paste("air-ceiling", "8 ft")
	page.Wants("air.word", "A fan is required")
	page.Tap("air-has_zinc")
	page.WantsText("chills and fever")
	got := ventilation(t, fmt.Sprintf(`{"room_volume_m3":%v,"ceiling_height_m":%v,"materials":["zinc"]}`, 20*22*8*0.028316846592, 8*0.3048))
	page.Wants("air.number", fmt.Sprintf("%.1f m³/min", got.Flow*60))
	page.Wants("air.changes", fmt.Sprintf("%.0f", got.Changes))
	page.Wait("the zinc stands before the number", `document.querySelector("[data-warning=has_zinc]").compareDocumentPosition(document.querySelector("[data-val='air.number']")) & Node.DOCUMENT_POSITION_FOLLOWING`)
	sound(t, page, "air")
	page.Reload()
	page.Wants("air-ceiling", "8 ft")
	page.Wants("air.word", "A fan is required")
	page.Tap("air-place-open_air")
	page.Wants("air.word", "the metal does ask for more")
	page.Tap("to-bench")
	page.Wants("to-air")
	saving(page, func() { page.Tap("units-us") })
	page.Tap("to-air")
	page.Tap("air-place-room")
	page.Wants("air.number", "2000 ft³/min")
	sound(t, page, "air-us")
}

// ventilation asks the command line.
func ventilation(t *testing.T, question string) (a struct {
	Flow    float64 `json:"minimum_flow_m3_s"`
	Changes float64 `json:"air_changes_per_hour"`
}) {
	t.Helper()
	out := browsertest.Compute(t, "ventilation", []byte(question))
	if err := json.Unmarshal(out, &a); err != nil || a.Flow == 0 {
		t.Fatalf("%v in %s", err, out)
	}
	return a
}

// The converter says what was typed in every unit, gauges and drills too; what it does not understand stays in the field with the reason.
func TestConverterReadsWhatPeopleType(t *testing.T) {
	_, _, page := fresh(t)
	goTo(page, "bench")
	page.Tap("to-convert")
	page.Wants("convert-text")
	page.Offline(true)
	page.Type("convert-text", "16 ga")
	page.Wants("convert-answers", "Manufacturers' Standard, steel", "1.5189 mm", "Brown & Sharpe", "1.2903 mm")
	page.Paste("convert-text", "15 psi")
	page.Wants("convert-answers", "1.0342 bar", "103.42 kPa")
	sound(t, page, "convert")
	page.Paste("convert-text", "12 bananas")
	page.WantsText("“12 bananas” was not understood")
	page.Wants("convert-text", "12 bananas")
	page.Choose("convert-quantity", "pressure")
	page.WantsText("is no unit of a pressure")
	page.Paste("convert-text", "2,200 psi")
	page.WantsText("thousand mark")
	page.Tap("convert-text-choice-1")
	page.Wants("convert-answers", "151.68 bar")
	page.Paste("convert-text", "12 bananas")
	page.Reload()
	page.Wants("convert-text", "12 bananas")
	sound(t, page, "convert-bad")
	page.Tap("convert-drills")
	page.Wants("table-entries", "Drill #60", "1.016 mm")
	page.Back()
	page.Wants("convert-text", "12 bananas")
}

// An inch of 0.45 % carbon steel: cautions first, then the preheat, told as from memory.
func TestPreheatOfASteel(t *testing.T) {
	_, _, page := fresh(t)
	goTo(page, "bench")
	page.Tap("to-preheat")
	fillIn(page, typed{"preheat-thickness", "1 in"}, typed{"preheat-c", "0.45"}, typed{"preheat-mn", "0.75"})
	page.Wants("preheat.number", "200 °C")
	page.Wants("preheat.iiw", "0.575: poor to weld")
	page.WantsText("From memory, not checked")
	sound(t, page, "preheat")
	page.Paste("preheat-c", "45")
	page.WantsText("allowed is 0 to 2 %")
	page.Lacks("preheat.number")
}
