package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/units"
	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// Bench is the place of what belongs to the shop as a whole: for now the choices, the data, and the safety notice.
type Bench struct {
	app.Compo

	Prefs state.Prefs
	Bench state.Bench
}

var _ app.Mounter = (*Bench)(nil)

// OnMount asks how the store is: it changes with every visit.
func (b *Bench) OnMount(ctx app.Context) { action.Post(ctx, state.HealthAsked{}) }

// Render shows what holds for the whole shop.
func (b *Bench) Render() app.UI {
	return widgets.Page("What holds for the whole shop?",
		widgets.BigLink("to-orders", "Orders of work: light, stop, what if", "/orders", widgets.Plain),
		widgets.BigLink("to-cuts", "Cut list: will the gas last?", "/bench/cuts", widgets.Plain),
		widgets.BigLink("to-flame", "The flame: ratio, heat, fuels compared", "/flame", widgets.Plain),
		widgets.BigLink("to-tables", "Tables: shades, colours, limits, sizes", "/bench/tables", widgets.Plain),
		widgets.BigLink("to-convert", "Units, gauges and drills", "/bench/convert", widgets.Plain),
		widgets.BigLink("to-air", "Air: does this room need a fan?", "/bench/air", widgets.Plain),
		widgets.BigLink("to-preheat", "Preheat of steel", "/bench/preheat", widgets.Plain),
		widgets.BigLink("to-timers", "Timers: fire watch, settling, purge", timersPath, widgets.Plain),
		widgets.BigLink("to-pacer", "Pacer: beat and stopwatch of travel", "/bench/pacer", widgets.Plain),
		widgets.PageLink("to-abilities", "What this phone can do", "/abilities"),
		widgets.BigLink("to-upkeep", "Upkeep: what is due on the rig", upkeepPath, widgets.Plain),
		widgets.BigLink("to-cylinders", "Cylinder log: readings, how long it lasts, settling", "/bench/cylinders", widgets.Plain),
		widgets.BigLink("to-card", "Wall card: this rig on one page of paper", "/bench/card", widgets.Plain),
		widgets.BigLink("to-devices", "Devices and sync", "/devices", widgets.Plain),
		b.about(),
		b.data(),
		b.look(),
		b.units(),
		askRegion(b.Prefs.AskRegion),
		b.usual(),
		sourcesNote(),
	)
}

// about keeps the safety notice within reach.
func (b *Bench) about() app.UI {
	return widgets.Card("About",
		&widgets.BigButton{Act: "about-safety", Label: "Safety notice", Expanded: boolWord(b.Bench.About), OnPress: post(state.AboutToggled{})},
		app.If(b.Bench.About, safetyText),
		installHelp(),
		app.P().Class("quiet").Text(words.Text(versionText())))
}

// ReleaseName is the variable in which the page brings the name of the release.
const ReleaseName = "TORCHSIDE_RELEASE"

// versionText names what runs here, as "torchside version" does on the server: the release and the hash of the app's sources.
func versionText() string {
	build := app.Getenv("GOAPP_VERSION")
	if release := app.Getenv(ReleaseName); release != "" {
		return words.S("Version %s, build %s", release, build)
	}
	return words.S("Build %s", build)
}

func (b *Bench) look() app.UI {
	return widgets.Card("Look",
		&widgets.ChoiceGroup{ID: "theme", Act: "theme", Label: "Light or dark", Selected: b.Prefs.Theme, OnChoose: b.onTheme, Choices: []widgets.Choice{
			{Value: state.ThemeDark, Label: "Dark", Note: "for the shop"}, {Value: state.ThemeLight, Label: "Light", Note: "for sunlight"},
			{Value: state.ThemeSystem, Label: "As the phone"}}},
		&widgets.ChipGroup{Act: "language", Label: "Language", Selected: words.Chosen(), Always: true, OnChoose: b.onLanguage, Choices: []widgets.Choice{
			{Label: "As the phone"}, {Value: words.English, Label: "English"}, {Value: words.Spanish, Label: "Español"}, {Value: words.German, Label: "Deutsch"}}},
		&widgets.ChoiceGroup{ID: "region", Act: "region", Label: "Hose colours", Selected: b.Prefs.Region, OnChoose: onRegion, Choices: regionChoices()},
	)
}

func (b *Bench) onLanguage(ctx app.Context, v string) {
	action.Post(ctx, state.LanguageChosen{Code: v})
}
func (b *Bench) onTheme(ctx app.Context, v string) { action.Post(ctx, state.ThemeChosen{Theme: v}) }
func (b *Bench) onRule(ctx app.Context, v string)  { action.Post(ctx, state.RuleChosen{Rule: v}) }
func (b *Bench) onMoney(ctx app.Context, v string) { action.Post(ctx, state.CurrencyTyped{Text: v}) }

func (b *Bench) onPref(ctx app.Context, key, text string) {
	action.Post(ctx, state.PrefTyped{Key: key, Text: text})
}

func (b *Bench) units() app.UI {
	return widgets.Card("", app.Div().Class("unit-lists").Body(&widgets.UnitPicker{Preset: preset(b.Prefs.Units.IsUS()), Rows: unitRows(b.Prefs.Units), OnPreset: b.onPreset, OnUnit: b.onUnit}))
}

// unitRows are the quantities that have more than one unit.
func unitRows(system units.System) []widgets.UnitRow {
	var rows []widgets.UnitRow
	for _, q := range units.Quantities() {
		var symbols []string
		for _, u := range units.UnitsOf(q) {
			symbols = append(symbols, u.Symbol())
		}
		if len(symbols) > 1 && q != units.QuantityNumber {
			rows = append(rows, widgets.UnitRow{Key: q.String(), Label: words.Capital(q.String()), Symbols: symbols, Chosen: system.Unit(q).Symbol()})
		}
	}
	return rows
}

func (b *Bench) onPreset(ctx app.Context, value string) { choosePreset(ctx, value) }

// Words of the presets.
const (
	presetUS     = "us"
	presetMetric = "metric"
)

func preset(us bool) string {
	if us {
		return presetUS
	}
	return presetMetric
}

func choosePreset(ctx app.Context, value string) {
	system := units.Metric()
	if value == presetUS {
		system = units.US()
	}
	action.Post(ctx, state.UnitsChosen{System: system})
}

func unitChoices() []widgets.Choice {
	return []widgets.Choice{{Value: presetMetric, Label: "Metric", Note: "bar, L/h, mm, °C"}, {Value: presetUS, Label: "US", Note: "psi, ft³/h, inches, °F"}}
}

func (b *Bench) onUnit(ctx app.Context, key, symbol string) {
	for _, q := range units.Quantities() {
		if q.String() == key {
			action.Post(ctx, state.UnitChosen{Quantity: q, Symbol: symbol})
		}
	}
}

// usual are the numbers and rules that hold until a page is told otherwise.
func (b *Bench) usual() app.UI {
	rule := b.Prefs.WithdrawalRule
	if rule == "" {
		rule = state.Rules()[0].Value
	}
	body := fields(b.Bench.Forms, "pref", b.onPref, b.onPref)
	return widgets.Card("Usual in this shop", append(body,
		&widgets.TextField{ID: "pref-currency", Act: "pref-currency", Label: "Sign of your money", Help: "As $ or €.", Value: b.Prefs.Currency, Err: b.Bench.CurrencyError, OnInput: b.onMoney},
		&widgets.ChoiceGroup{ID: "rule", Act: "rule", Label: "How fast acetylene may be drawn", Selected: rule, Choices: options(state.Rules()), OnChoose: b.onRule},
	)...)
}

func sourcesNote() app.UI {
	return widgets.Card("Where the numbers come from",
		app.P().Text(words.Text("Every number of a settings card opens, with a tap, the sheet that tells its formula, inputs, source and uncertainty.")),
		app.P().Text(words.Text("The kinds, the strongest first: maker's chart (as you typed it in), handbook, computed, common practice. One marked “from memory” has not been checked against its source yet and only makes advice stricter.")))
}
