package state

import (
	"encoding/json"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"torchside/calc/cylinder"
	"torchside/calc/units"
	"torchside/calc/words"
	"torchside/storage"
)

// Words of the preferences.
const (
	ThemeSystem = "system"
	ThemeDark   = "dark"
	ThemeLight  = "light"
	RegionISO   = "iso"
	RegionUS    = "us"
)

// Keys of the typed preferences.
const (
	PrefTemperature   = "temperature"
	PrefAltitude      = "altitude"
	PrefOxygenReserve = "oxygen_reserve"
	PrefFuelReserve   = "fuel_reserve"
	PrefOxygenPrice   = "oxygen_price"
	PrefFuelPrice     = "fuel_price"
)

// Keys of the chosen preferences.
const (
	prefUnits    = "units"
	prefTheme    = "theme"
	prefRegion   = "region"
	prefRule     = "withdrawal_rule"
	prefCurrency = "currency"
	prefNotice   = "notice_seen"
	prefSpoken   = "timer_speech"
	prefExported = "exported"
	prefTorch    = "torch_reminder"
)

// What holds until the owner says otherwise: a shop at 20 °C at sea level.
const (
	defaultTemperature = 293.15 // K
	defaultAltitude    = 0      // m
)

// DefaultPrefs are the preferences before the owner has chosen: dark, metric, ISO 3821 hose colours, the strictest rule.
func DefaultPrefs() Prefs {
	return Prefs{
		Units: units.Metric(), Theme: ThemeDark, Region: RegionISO, Texts: map[string]string{},
		si: map[string]float64{PrefTemperature: defaultTemperature, PrefAltitude: defaultAltitude},
	}
}

// number is a typed preference as understood, or its default.
func (p Prefs) number(key string) float64 { return p.si[key] }

// given is a typed preference as understood, nil when there is none.
func (p Prefs) given(key string) *float64 {
	v, ok := p.si[key]
	if !ok {
		return nil
	}
	return &v
}

// prefBody is the body of a preference's record, schema 1. A typed preference has si, typed and unit as a part's value has; a
// chosen one has its word in value. Fields this build does not know are kept.
type prefBody struct {
	Key   string
	Value string
	Typed *Value

	extra map[string]json.RawMessage
}

func (b *prefBody) targets() map[string]any {
	return map[string]any{"key": &b.Key, "value": &b.Value, "typed": &b.Typed}
}

// prefRecord finds the record of a preference: the newest if two devices made one each.
func (a App) prefRecord(key string) (storage.Record, prefBody) {
	var found storage.Record
	var body prefBody
	for _, r := range a.records {
		if r.Kind != KindPreference || r.Deleted {
			continue
		}
		b, err := readPref(r.Body)
		if err != nil || b.Key != key {
			continue
		}
		if found.ID == "" || found.Heads[0].HLC.Compare(r.Heads[0].HLC) < 0 {
			found, body = r, b
		}
	}
	return found, body
}

func readPref(text []byte) (prefBody, error) {
	var b prefBody
	extra, err := readKnown(text, b.targets())
	b.extra = extra
	return b, err
}

// readPrefs takes the preferences from their records. One that cannot be understood leaves the present choice; one being
// changed right now is not overwritten by what is stored.
func (a App) readPrefs() App {
	p := a.Prefs
	p.Texts, p.si = maps.Clone(p.Texts), maps.Clone(p.si)
	for _, key := range []string{prefUnits, prefTheme, prefRegion, prefRule, prefCurrency, prefNotice, prefSpoken, prefExported, prefTorch, prefGuide} {
		if r, b := a.prefRecord(key); r.ID != "" && !a.prefChanging(key) {
			p.choose(key, b.Value)
		}
	}
	if before := a.Prefs.Units; before != p.Units {
		// Chosen in another window, or read from a file: what is typed here keeps its meaning.
		a.Prefs = p
		a = a.retexted(before)
		p = a.Prefs
	}
	for _, s := range prefSpecs {
		if r, b := a.prefRecord(s.Key); r.ID != "" && !a.prefChanging(s.Key) && a.Bench.Errors[s.Key] == "" {
			p.take(s, b)
		}
	}
	a.Prefs = p
	a.Prefs.AskRegion = p.Units.IsUS() && !a.regionGiven()
	return a
}

// regionGiven tells whether the colours of the hoses were chosen by hand, also when that is not stored yet.
func (a App) regionGiven() bool {
	r, _ := a.prefRecord(prefRegion)
	refused := slices.ContainsFunc(a.unsaved, func(p pending) bool { return p.pref == prefRegion })
	return r.ID != "" || refused || a.prefChanging(prefRegion)
}

// choose sets a chosen preference if the word is one of ours.
func (p *Prefs) choose(key, value string) {
	switch key {
	case prefUnits:
		// A choice of units of a newer build is left alone: UnmarshalText then changes nothing.
		_ = p.Units.UnmarshalText([]byte(value))
	case prefTheme:
		if value == ThemeSystem || value == ThemeDark || value == ThemeLight {
			p.Theme = value
		}
	case prefRegion:
		if value == RegionISO || value == RegionUS {
			p.Region = value
		}
	case prefRule:
		p.WithdrawalRule = value
	case prefCurrency:
		p.Currency = value
	case prefNotice:
		p.NoticeSeen = value == "yes"
	case prefGuide:
		p.Guide = guideScreen(value)
	case prefSpoken:
		p.Spoken = value == "yes"
	case prefTorch:
		// A number that is none of ours leaves the reminder off.
		minutes, _ := strconv.Atoi(value)
		p.TorchMinutes = max(0, min(minutes, 60))
	case prefExported:
		if ms, err := strconv.ParseInt(value, 10, 64); err == nil {
			p.Exported = ms
		}
	}
}

// take sets a typed preference; one that was emptied goes back to its default.
func (p *Prefs) take(s Spec, b prefBody) {
	if b.Typed == nil {
		p.Texts[s.Key] = ""
		p.forget(s.Key)
		return
	}
	if p.Texts[s.Key] == "" || !sameSI(p.si[s.Key], b.Typed.SI) {
		p.Texts[s.Key] = strings.TrimSpace(b.Typed.Typed + " " + missingUnit(s, *b.Typed, p.Units))
	}
	p.si[s.Key] = b.Typed.SI
}

// missingUnit is the unit to write behind a stored text so that it says the same under these units; "" when none is needed.
func missingUnit(s Spec, v Value, system units.System) string {
	f := s.Field
	f.Unit = s.unit(system)
	f.Standard = prefRatio(s)
	if r, err := f.Parse(v.Typed); err == nil && sameSI(r.SI, v.SI) {
		return ""
	}
	return v.Unit
}

// forget puts a typed preference back to its default.
func (p *Prefs) forget(key string) {
	delete(p.si, key)
	if v, ok := DefaultPrefs().si[key]; ok {
		p.si[key] = v
	}
}

// chosen writes a chosen preference and shows it at once.
func (a App) chosen(key, value string) (App, []Effect) {
	before := a.Prefs.Units
	p := a.Prefs
	p.choose(key, value)
	a.Prefs = p
	if key == prefUnits {
		a = a.retexted(before)
	}
	a, effects := a.writePref(key, value, nil)
	return a.rebuilt(), effects
}

// retexted keeps the meaning of typed texts when the assumed units change.
func (a App) retexted(before units.System) App {
	old := a
	old.Prefs.Units = before
	a.Setup.Typed = maps.Clone(a.Setup.Typed)
	for _, s := range setupSpecs {
		a.Setup.Typed[s.Key] = retext(old.setupField(s), a.setupField(s), a.Setup.Typed[s.Key])
	}
	a.Prefs.Texts = maps.Clone(a.Prefs.Texts)
	for _, s := range prefSpecs {
		a.Prefs.Texts[s.Key] = retext(old.prefField(s), a.prefField(s), a.Prefs.Texts[s.Key])
	}
	return a.cutListRetexted(before).worksheetsRetexted(before)
}

// writePref writes a preference, or notes that it has to be written again after the write under way.
func (a App) writePref(key, value string, typed *Value) (App, []Effect) {
	if a.prefChanging(key) {
		a.prefsNext = maps.Clone(a.prefsNext)
		if a.prefsNext == nil {
			a.prefsNext = map[string]prefBody{}
		}
		a.prefsNext[key] = prefBody{Value: value, Typed: typed}
		return a, nil
	}
	seen, b := a.prefRecord(key)
	b.Key, b.Value, b.Typed = key, value, typed
	text, err := writeKnown(b.extra, b.targets())
	if err != nil {
		return a.panicked(words.S("writing preference %s: %s", key, err.Error())), nil
	}
	draft := storage.Draft{Seen: seen, Kind: KindPreference, Schema: max(Schema, seen.Schema), Body: text}
	return a.write(pending{drafts: []storage.Draft{draft}, pref: key})
}

// prefChanging tells whether a write of this preference is under way.
func (a App) prefChanging(key string) bool {
	for _, p := range a.waiting {
		if p.pref == key {
			return true
		}
	}
	return false
}

// Rules are the withdrawal rules to choose from, the strictest first.
func Rules() []Option {
	var list []Option
	for _, w := range cylinder.Withdrawals() {
		label := words.S("%s of the contents an hour", share(w.Intermittent))
		if w.Continuous != w.Intermittent {
			label += words.S(", %s without a break", share(w.Continuous))
		}
		list = append(list, Option{Value: string(w.Rule), Label: label, Note: w.Source})
	}
	return list
}

// share writes a fraction of one as people say it, "1/10".
func share(v float64) string { return "1/" + strconv.Itoa(int(math.Round(1/v))) }

// unitBySymbol finds a chosen unit.
func unitBySymbol(m UnitChosen) (units.Unit, bool) { return units.UnitBySymbol(m.Quantity, m.Symbol) }
