//go:build browser

package journeys

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"torchside/pwa/journeys/browsertest"
)

// jointAnswer is the part of the command line's answer that is compared with the screen.
type jointAnswer struct {
	Filler struct {
		Class string `json:"class"`
	} `json:"filler"`
	Flux struct {
		Name string `json:"name"`
	} `json:"flux"`
	HeatToK    span `json:"heat_to_k"`
	ClearanceM span `json:"clearance_m"`
	Used       struct {
		RodM   span `json:"rod_m"`
		FluxKg span `json:"flux_kg"`
	} `json:"used"`
}

type span struct{ Value, Low, High float64 }

// computedJoint asks the command line for the bracket.
func computedJoint(t *testing.T) jointAnswer {
	t.Helper()
	var a jointAnswer
	if err := json.Unmarshal(browsertest.Compute(t, "braze", []byte(`{"metal":"mild_steel","other_metal":"copper","joint":"lap","thickness_m":0.003,"length_m":0.04}`)), &a); err != nil {
		t.Fatal(err)
	}
	return a
}

// firstNumber is the first number of a tile.
func firstNumber(t *testing.T, p *browsertest.Page, hook string) float64 {
	t.Helper()
	text, _, _ := strings.Cut(p.Text(hook), " ")
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatalf("%s shows %q", hook, p.Text(hook))
	}
	return v
}

// jointAgrees compares the card with the command line's answer, metric.
func jointAgrees(t *testing.T, p *browsertest.Page, a jointAnswer) {
	t.Helper()
	p.Wants("filler", a.Filler.Class)
	p.Wants("flux", a.Flux.Name[1:]) // it begins with a capital on the card
	p.Wants("joint.heat_to_k", fmt.Sprintf("%.0f to %.0f", a.HeatToK.Low-273.15, a.HeatToK.High-273.15))
	p.Wants("joint.clearance_m", fmt.Sprintf("%.2f to %.2f", a.ClearanceM.Low*1e3, a.ClearanceM.High*1e3))
	if got, want := firstNumber(t, p, "joint.rod_m"), a.Used.RodM.Value*1e3; math.Abs(got/want-1) > 0.02 {
		t.Errorf("%v mm of rod, the command line has %v", got, want)
	}
	if got, want := firstNumber(t, p, "joint.flux_kg"), a.Used.FluxKg.Value*1e3; math.Abs(got/want-1) > 0.06 {
		t.Errorf("%v g of flux, the command line has %v", got, want)
	}
}

// A steel bracket is brazed to a copper fitting, offline: the card is that of the command line, what makes ill stands before the filler,
// and what cannot be done says why.
func TestBrazingABracketToACopperFitting(t *testing.T) {
	server, profile, page := fresh(t)
	goTo(page, "setup")
	page.Tap("setup-sample")
	page.Wants("setup-sample-remove", "Remove")
	page.Cached()
	page.Close()
	server.Stop()
	profile.Expect("ERR_CONNECTION_REFUSED")
	page = profile.Open("/?source=home")
	page.Tap("setup-work-braze")
	page.Tap("setup-joint-lap")
	page.Choose("setup-other_metal", "copper")
	page.Type("setup-thickness", "3 mm")
	page.Type("setup-seam", "40 mm")
	shots(page, "braze-form")
	page.Tap("setup-done")
	page.Wants("setup-question", "Braze, mild steel to copper, 3 mm, lap")
	jointAgrees(t, page, computedJoint(t))
	page.Wait("what makes ill stands before filler and flux", `(() => {
		const before = (code, hook) => {
			const w = document.querySelector('[data-warning="' + code + '"]'), n = document.querySelector('[data-val="' + hook + '"]');
			return w && n && (w.compareDocumentPosition(n) & Node.DOCUMENT_POSITION_FOLLOWING);
		};
		return before("cadmium", "filler") && before("zinc_in_rod", "filler") && before("fluoride_flux", "flux");
	})()`)
	page.Tap("joint-steps")
	page.WantsText("more on the copper")
	shots(page, "braze-card-metric")

	page.Tap("setup-edit")
	page.Tap("setup-process-braze_weld")
	page.Wait("the filler is a brass rod", `document.querySelector('[data-val="filler"]')?.innerText.includes("RBCuZn-A")`)
	page.Choose("setup-other_metal", "aluminium")
	page.Wait("aluminium to steel is refused", `document.getElementById("setup-refusal")?.innerText.includes("brittle layer")`)
	shots(page, "braze-refused")
	page.Choose("setup-other_metal", "mild_steel")
	page.Tap("setup-metal-galvanised_steel")
	page.Wait("zinc is refused", `document.getElementById("setup-refusal")?.innerText.includes("fume makes ill")`)
	page.Tap("setup-process-solder")
	page.Wait("it can be soldered", `document.querySelector('[data-val="filler"]')?.innerText.includes("95-5")`)
}
