package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/present"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

func toBench() app.UI { return widgets.BackLink("to-bench", "Bench", "/bench") }

// worksheetFields shows the fields of a worksheet; what is typed goes to the state under its name.
func worksheetFields(name string, list []state.FormField) []app.UI {
	typed := func(ctx app.Context, key, text string) {
		action.Post(ctx, state.WorksheetTyped{Sheet: name, Key: key, Text: text})
	}
	return fields(list, name, typed, typed)
}

// noAnswer says why there is no answer to a complete question.
func noAnswer(problem string) app.UI {
	return app.If(problem != "", func() app.UI { return stopLine(problem, "worksheet-problem") })
}

// Air is the page that tells whether a room needs a fan.
type Air struct {
	app.Compo

	Air   state.Air
	Prefs state.Prefs
}

// Render shows the answer below the question, cautions of a metal before the number.
func (p *Air) Render() app.UI {
	o := present.Options{Units: p.Prefs.Units}
	return widgets.Page("Does this room need a fan?", toBench(),
		widgets.Card("", append(worksheetFields(state.SheetAir, p.Air.Fields), p.metals())...),
		noAnswer(p.Air.Problem),
		app.If(p.Air.Answer != nil, func() app.UI { return widgets.BenchAnswer(present.NewAir(*p.Air.Answer, o), "air") }),
		widgets.Card("A hood at the work instead", app.P().Class("quiet").Text(words.S("It draws 100 ft/min (30 m/min) of air past the flame. Source: %s.", present.AirHoodsSource())), widgets.FactList(present.AirHoods(o))),
		app.P().Class("quiet").Text(words.Text("This follows US rules and measures no air. The rules where you are, and a qualified person, come first.")),
	)
}

func (p *Air) metals() app.UI {
	list := p.Air.Metals
	return app.Div().Class("chips").Role("group").Aria("label", words.Text("What is in metal, coating, filler or flux?")).Body(
		app.P().Class("field-label").Aria("hidden", "true").Text(words.Text("What is in metal, coating, filler or flux?")),
		app.Div().Class("chips-row").Body(app.Range(list).Slice(func(i int) app.UI {
			m := list[i]
			return &widgets.ToggleChip{Act: "air-" + m.Value, Key: m.Value, Label: m.Label, On: p.Air.Chosen[m.Value], OnToggle: p.onMetal}
		})))
}

func (p *Air) onMetal(ctx app.Context, key string, on bool) {
	text := ""
	if on {
		text = "yes"
	}
	action.Post(ctx, state.WorksheetTyped{Sheet: state.SheetAir, Key: key, Text: text})
}

// Preheat is the page of carbon equivalent and preheat.
type Preheat struct {
	app.Compo

	Preheat state.Preheat
	Prefs   state.Prefs
}

// Render shows the question and its answer.
func (p *Preheat) Render() app.UI {
	return widgets.Page("How warm must this steel be?", toBench(),
		widgets.Card("", append([]app.UI{app.P().Class("quiet").Text(words.Text("Per cent of mass, from the mill certificate. Empty counts as none."))}, worksheetFields(state.SheetPreheat, p.Preheat.Fields)...)...),
		noAnswer(p.Preheat.Problem),
		app.If(p.Preheat.Answer != nil, func() app.UI {
			return widgets.BenchAnswer(present.NewPreheat(*p.Preheat.Answer, present.Options{Units: p.Prefs.Units}), "preheat")
		}),
		widgets.BigLink("preheat-table", "The table and the formulas", "/bench/tables?table=preheat", widgets.Plain),
	)
}

// Convert is the page that says one quantity in every unit.
type Convert struct {
	app.Compo

	Convert state.Convert
}

// Render shows what was understood, or what is wrong, under the field.
func (p *Convert) Render() app.UI {
	body := []app.UI{toBench()}
	list := p.Convert.Fields
	var rest []app.UI
	for _, f := range list {
		if f.Key == "text" {
			body = append(body, &widgets.NumberField{ID: "convert-text", Act: "convert-text", Label: f.Label, Help: f.Help, Value: f.Text, Err: p.Convert.Problem,
				Choices: p.Convert.Choices, Letters: true, OnInput: p.onText})
		}
	}
	for _, a := range p.Convert.Answers {
		lines := make([]widgets.ConvertedLine, 0, len(a.Lines))
		for _, l := range a.Lines {
			lines = append(lines, widgets.ConvertedLine(l))
		}
		rest = append(rest, widgets.Converted(a.Title, a.Read, lines))
	}
	body = append(body, app.Div().Class("tables-body").DataSet("val", "convert-answers").Aria("live", "polite").Body(rest...),
		widgets.Card("", worksheetFields(state.SheetConvert, list[min(1, len(list)):])...),
		widgets.BigLink("convert-gauges", "Sheet gauges", "/bench/tables?table=gauges", widgets.Plain), widgets.BigLink("convert-drills", "Drill sizes", "/bench/tables?table=drills", widgets.Plain))
	return widgets.Page("What is that in other units?", body...)
}

func (p *Convert) onText(ctx app.Context, text string) {
	action.Post(ctx, state.WorksheetTyped{Sheet: state.SheetConvert, Key: "text", Text: text})
}
