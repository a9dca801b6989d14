//go:build browser

package journeys

import (
	"encoding/json"
	"maps"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"torchside/pwa/journeys/browsertest"
)

// answer is the part of the command line's settings card that is compared with the screen.
type answer struct {
	Tip            string   `json:"tip"`
	Oxygen         gasLine  `json:"oxygen"`
	Fuel           gasLine  `json:"fuel"`
	Ratio          float64  `json:"ratio"`
	ExitVelocityMS *float64 `json:"exit_velocity_m_s"`
	HoldOnMargin   *float64 `json:"hold_on_margin"`
	EnduranceS     *float64 `json:"endurance_s"`
}

type gasLine struct {
	RegulatorGaugePa float64  `json:"regulator_gauge_pa"`
	TorchGaugePa     float64  `json:"torch_gauge_pa"`
	FlowStdM3S       float64  `json:"flow_std_m3_s"`
	EnduranceS       *float64 `json:"endurance_s"`
}

// computed asks the command line what the page was asked: the same rig, typed in SI.
func computed(t *testing.T, rig map[string]any, thickness float64) answer {
	t.Helper()
	question, err := json.Marshal(map[string]any{
		"work": "weld", "metal": "mild_steel", "thickness_m": thickness, "joint": "butt", "rig": rig,
		"temperature_k": 293.15, "ambient_abs_pa": 101325,
	})
	if err != nil {
		t.Fatal(err)
	}
	var a answer
	if err := json.Unmarshal(browsertest.Compute(t, "setup", question), &a); err != nil {
		t.Fatal(err)
	}
	return a
}

// inUnits is how each number of a card is shown in the two presets, as a factor on the SI number. A standard flow in cubic feet
// is at 70 °F, the command line's at 15 °C: the ideal-gas ratio of the two is exact to 0.1 % for these gases.
var inUnits = map[string]map[string]float64{
	"us":     {"psi": 1 / psi, "ft³/h": 3600 / (foot * foot * foot) * 294.2611 / 288.15, "ft/s": 1 / foot, "": 1},
	"metric": {"bar": 1e-5, "L/h": 3600e3, "m/s": 1, "": 1},
}

// numbers are the numbers of an answer, by the names they are shown under.
func (a answer) numbers() map[string]float64 {
	n := map[string]float64{"ratio": a.Ratio}
	put := func(key string, v *float64) {
		if v != nil {
			n[key] = *v
		}
	}
	put("exit_velocity_m_s", a.ExitVelocityMS)
	put("hold_on_margin", a.HoldOnMargin)
	put("endurance_s", a.EnduranceS)
	for gas, l := range map[string]gasLine{"oxygen": a.Oxygen, "fuel": a.Fuel} {
		n[gas+".regulator_gauge_pa"], n[gas+".torch_gauge_pa"], n[gas+".flow_std_m3_s"] = l.RegulatorGaugePa, l.TorchGaugePa, l.FlowStdM3S
		put(gas+".endurance_s", l.EnduranceS)
	}
	return n
}

// agrees compares a card on the screen, in a preset, with the command line's answer.
func agrees(t *testing.T, p *browsertest.Page, preset string, a answer) {
	t.Helper()
	p.Wants("tip", a.Tip)
	for key, si := range a.numbers() {
		switch text := strings.Join(strings.Fields(p.Text(key)), " "); {
		case strings.HasSuffix(key, "endurance_s"):
			sameDuration(t, key, text, si)
		case key == "hold_on_margin":
			sameMagnitude(t, key, text, si)
		case key == "ratio":
			sameNumber(t, preset, key, strings.TrimSuffix(text, " to 1"), si)
		default:
			sameNumber(t, preset, key, text, si)
		}
	}
}

var shownNumber = regexp.MustCompile(`^(\d+(?:\.(\d+))?)\s*(\S*)$`)

// sameNumber compares within the rounding of what is shown, and 0.1 % for the state of a standard cubic foot.
func sameNumber(t *testing.T, preset, key, text string, si float64) {
	t.Helper()
	m := shownNumber.FindStringSubmatch(text)
	if m == nil {
		t.Errorf("%s shows %q, wanted a number with its unit", key, text)
		return
	}
	factor, ok := inUnits[preset][m[3]]
	if !ok {
		t.Errorf("%s shows %q, which is no unit of the preset %s", key, text, preset)
		return
	}
	got, _ := strconv.ParseFloat(m[1], 64)
	want := si * factor
	rounding := 0.5 * math.Pow(10, -float64(len(m[2])))
	if len(m[2]) == 0 && got >= 1000 {
		rounding = 0.5 * got * 1e-2 // large numbers are shown to three digits or better
	}
	if math.Abs(got-want) > rounding*1.001+1e-3*want {
		t.Errorf("%s shows %q, the command line says %.6g %s", key, text, want, m[3])
	}
}

var shownMagnitude = regexp.MustCompile(`^about ([\d.]+) ×$`)

// sameMagnitude compares a number that is cut to one digit: it is no surer than that, and the smaller is the safer.
func sameMagnitude(t *testing.T, key, text string, want float64) {
	t.Helper()
	m := shownMagnitude.FindStringSubmatch(text)
	if m == nil {
		t.Errorf("%s shows %q, wanted “about” a number", key, text)
		return
	}
	got, _ := strconv.ParseFloat(m[1], 64)
	digit := math.Pow(10, math.Floor(math.Log10(got)))
	if want < got || want >= got+digit {
		t.Errorf("%s shows %q, the command line says %.4g", key, text, want)
	}
}

var shownTime = regexp.MustCompile(`^(?:(\d+) h)?\s*(?:([\d.]+) min)?\s*(?:([\d.]+) s)?$`)

// sameDuration compares within the rounding of what is shown: half a minute, under ten minutes a twentieth of one.
func sameDuration(t *testing.T, key, text string, si float64) {
	t.Helper()
	m := shownTime.FindStringSubmatch(text)
	if m == nil {
		t.Errorf("%s shows %q, wanted hours and minutes", key, text)
		return
	}
	part := func(s string) float64 { v, _ := strconv.ParseFloat(s, 64); return v }
	got := 3600*part(m[1]) + 60*part(m[2]) + part(m[3])
	rounding := 30.0
	if si < 600 {
		rounding = 3
	}
	if math.Abs(got-si) > rounding*1.001 {
		t.Errorf("%s shows %q, the command line says %.4g s", key, text, si)
	}
}

// cardText is everything a card says in numbers, to compare one card with another.
func cardText(p *browsertest.Page) map[string]string {
	keys := []string{"tip", "ratio", "oxygen.regulator_gauge_pa", "fuel.regulator_gauge_pa", "oxygen.flow_std_m3_s", "fuel.flow_std_m3_s", "endurance_s"}
	card := map[string]string{}
	for _, k := range keys {
		card[k] = p.Text(k)
	}
	return card
}

// sameCard fails the test when the page shows another card than before.
func sameCard(t *testing.T, p *browsertest.Page, want map[string]string) {
	t.Helper()
	if got := cardText(p); !maps.Equal(got, want) {
		t.Errorf("the card has changed:\ngot  %v\nwant %v", got, want)
	}
}
