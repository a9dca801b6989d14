package state

import (
	"reflect"
	"testing"

	"torchside/calc/units"
)

func TestPrefs_come_back_after_a_reload(t *testing.T) {
	w := newWorld(t)
	w.post(NoticeAccepted{})
	w.post(UnitsChosen{System: us(t)})
	w.post(UnitChosen{Quantity: units.QuantityPressure, Symbol: "bar"})
	w.post(ThemeChosen{Theme: ThemeLight})
	w.post(RegionChosen{Region: RegionUS})
	w.post(RuleChosen{Rule: "seventh"})
	w.post(CurrencyTyped{Text: "€"})
	w.post(PrefTyped{Key: PrefTemperature, Text: "50 F"})
	w.post(PrefTyped{Key: PrefOxygenPrice, Text: "4 /m³"})
	before := w.app.Prefs
	w.restart()
	after := w.app.Prefs
	if !after.NoticeSeen || textOf(after.Units) != "us;pressure=bar" || after.Theme != ThemeLight || after.Region != RegionUS ||
		after.WithdrawalRule != "seventh" || after.Currency != "€" || !sameSI(after.number(PrefTemperature), 283.15) {
		t.Errorf("after a reload %+v", after)
	}
	if !reflect.DeepEqual(before.si, after.si) {
		t.Errorf("numbers %v, before %v", after.si, before.si)
	}
	if len(w.app.Bench.Errors) != 0 {
		t.Errorf("errors after a reload: %v", w.app.Bench.Errors)
	}
}

// Quick changes of one preference end as one record with the last value.
func TestPref_changed_while_it_is_written_ends_with_the_last_value(t *testing.T) {
	w := newWorld(t)
	w.hold = true
	for _, text := range []string{"1", "15", "15 C"} {
		w.post(PrefTyped{Key: PrefTemperature, Text: text})
	}
	w.release()
	w.restart()
	if got := w.app.Prefs.number(PrefTemperature); !sameSI(got, 288.15) {
		t.Errorf("temperature %v K, want 15 °C", got)
	}
	if n := len(w.bodies()); n != 1 {
		t.Errorf("%d records, want 1", n)
	}
}

func TestPref_not_understood_leaves_the_old_one_in_force(t *testing.T) {
	w := newWorld(t)
	w.post(PrefTyped{Key: PrefTemperature, Text: "15 C"})
	w.post(PrefTyped{Key: PrefTemperature, Text: "warm"})
	if got := w.app.Prefs.number(PrefTemperature); !sameSI(got, 288.15) || w.app.Bench.Errors[PrefTemperature] == "" {
		t.Errorf("temperature %v K, errors %v", got, w.app.Bench.Errors)
	}
	if got := w.app.Prefs.Texts[PrefTemperature]; got != "warm" {
		t.Errorf("the text is now %q", got)
	}
}
