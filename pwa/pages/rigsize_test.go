package pages

import (
	"strings"
	"testing"

	"torchside/calc/units"
	"torchside/pwa/pwatest"
	"torchside/pwa/state"
)

// soldForm is the form of an oxygen cylinder by its size as sold, with these texts in it: key, text, key, text …
func soldForm(t *testing.T, system units.System, save bool, texts ...string) string {
	t.Helper()
	list := []state.Msg{state.Loaded{}, state.UnitsChosen{System: system}, state.PartAdded{Kind: state.KindCylinder, Line: "oxygen"},
		state.FormChosen{Key: "size", Value: "contents"}}
	for i := 0; i < len(texts); i += 2 {
		list = append(list, state.FormTyped{Key: texts[i], Text: texts[i+1]})
	}
	if save {
		list = append(list, state.FormSaved{})
	}
	return pwatest.HTML(t, &Rig{Rig: after(list...).Rig})
}

func TestForm_of_a_cylinder_by_its_size_asks_for_contents_and_fill_pressure_instead_of_water(t *testing.T) {
	for system, unit := range map[string]string{"us": "ft³", "metric": "m³"} {
		u := units.Metric()
		if system == "us" {
			u = units.US()
		}
		html := soldForm(t, u, false, "full_contents", "80 ft³", "fill_gauge", "2200 psi")
		pwatest.Wants(t, html, `data-act="rig-full_contents"`, `data-act="rig-fill_gauge"`, `data-act="rig-gauge_pressure"`, ">"+unit+"<",
			"Read as 80 ft³", "a cylinder of ", "of water, by the real density of oxygen at 70 °F")
		pwatest.Lacks(t, html, `data-act="rig-water_volume"`, "field-bad")
	}
}

func TestForm_of_a_cylinder_by_its_size_shows_what_is_wrong_where_it_is_wrong(t *testing.T) {
	for _, tt := range []struct {
		name  string
		field string
		says  []string
		texts []string
	}{
		{"no cylinder", "rig-full_contents", []string{"a cylinder of 312 L of water"}, []string{"full_contents", "50 m³", "fill_gauge", "150 bar", "gauge_pressure", "100"}},
		{"missing unit", "rig-full_contents", []string{"Did you mean 80 ft³?", ">80 ft³<"}, []string{"full_contents", "80", "fill_gauge", "150 bar", "gauge_pressure", "100"}},
		{"gauge too high", "rig-gauge_pressure", []string{"at most a quarter above the pressure when full"}, []string{"full_contents", "10", "fill_gauge", "150", "gauge_pressure", "250"}},
		{"no fill pressure", "rig-fill_gauge", []string{"nothing was typed"}, []string{"full_contents", "10", "gauge_pressure", "100"}},
	} {
		html := soldForm(t, units.Metric(), true, tt.texts...)
		pwatest.Wants(t, html, append(tt.says, "Nothing is saved yet")...)
		if n := strings.Count(html, "field-bad"); n != 1 {
			t.Errorf("%s: %d fields are marked", tt.name, n)
		}
		if at, next := strings.Index(html, `data-act="`+tt.field+`"`), strings.Index(html, tt.says[0]); at < 0 || next < at {
			t.Errorf("%s: the message stands at %d, the field at %d", tt.name, next, at)
		}
	}
}
