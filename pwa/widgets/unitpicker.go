package widgets

import "github.com/maxence-charriere/go-app/v10/pkg/app"

// UnitRow is one quantity whose unit can be chosen.
type UnitRow struct {
	Key     string   // name of the quantity, as the page knows it
	Label   string   // "Pressure"
	Symbols []string // what may be chosen
	Chosen  string
}

// UnitPicker chooses one of the two presets, and any single unit on top of it.
type UnitPicker struct {
	app.Compo

	Preset   string // "us" or "metric"
	Rows     []UnitRow
	OnPreset func(ctx app.Context, preset string)
	OnUnit   func(ctx app.Context, key, symbol string)
}

// Render shows the presets first, then a list for each quantity.
func (u *UnitPicker) Render() app.UI {
	return app.Div().Class("stack").Body(
		&ChoiceGroup{ID: "units-preset", Act: "units", Label: "Units", Selected: u.Preset, OnChoose: u.onPreset,
			Choices: []Choice{
				{Value: "us", Label: "US", Note: "psi, ft³/h, inches, °F"},
				{Value: "metric", Label: "Metric", Note: "bar, L/h, mm, °C"},
			}},
		app.Range(u.Rows).Slice(func(i int) app.UI {
			return &unitRow{Row: u.Rows[i], OnUnit: u.OnUnit}
		}),
	)
}

func (u *UnitPicker) onPreset(ctx app.Context, preset string) {
	if u.OnPreset != nil {
		u.OnPreset(ctx, preset)
	}
}

// unitRow is the list of one quantity's units.
type unitRow struct {
	app.Compo

	Row    UnitRow
	OnUnit func(ctx app.Context, key, symbol string)
}

// CompoID is the quantity: rows keep their handler when they move.
func (r *unitRow) CompoID() string { return r.Row.Key }

// Render shows the list.
func (r *unitRow) Render() app.UI {
	choices := make([]Choice, 0, len(r.Row.Symbols))
	for _, s := range r.Row.Symbols {
		choices = append(choices, Choice{Value: s, Label: s})
	}
	return &SelectField{ID: "unit-" + r.Row.Key, Act: "unit-" + r.Row.Key, Label: r.Row.Label,
		Choices: choices, Selected: r.Row.Chosen, OnChoose: r.onChoose}
}

func (r *unitRow) onChoose(ctx app.Context, symbol string) {
	if r.OnUnit != nil {
		r.OnUnit(ctx, r.Row.Key, symbol)
	}
}
