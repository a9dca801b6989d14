package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/present"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// orderPage is one open order: one step a screen with a big way on, or all of them.
type orderPage struct {
	app.Compo

	Orders state.Orders
	Prefs  state.Prefs
}

// Render puts the way out first where the order begins with it, then cautions, then the step.
func (p *orderPage) Render() app.UI {
	v, s := p.Orders.View, p.Orders
	begin := app.If(v.Begin != nil, func() app.UI { return orderBegin(*v.Begin) })
	cautions := app.If((s.Whole || s.Step == 1) && len(v.Order.Cautions) > 0, func() app.UI { return orderCautions(v.Order.Cautions) })
	about := app.If((s.Whole || s.Step == 1) && v.Order.About != "", func() app.UI { return app.P().Class("quiet").Text(words.Text(v.Order.About)) })
	if s.Whole {
		return widgets.Page(v.Order.Title, begin, about, cautions, p.all(), p.ways())
	}
	// The way on lies over nothing: a step is read before it is done. At the foot of the screen where the step leaves room, else below it.
	return app.Main().Class("page").Body(
		app.Div().Class("order-screen").Body(widgets.Question(v.Order.Title), begin, cautions, p.one(), app.Div().Class("order-on").Body(p.next(len(v.Steps)))),
		about, p.ways())
}

// orderBegin is the way out, as short as it can be: the first step must not be pushed off the screen.
func orderBegin(b state.GetOut) app.UI {
	return app.Section().Class("card", "get-out").DataSet("val", "get-out").Body(
		app.P().Body(app.Strong().Class("get-out-word").Text(words.S("%s ", b.Title)), app.Text(words.Join(b.Signs, "; or ")+".")),
		app.P().Class("get-out-never").Text(words.S("%s %s", words.Join(b.Steps, " "), b.Never)))
}

// orderCautions stand before the first step.
func orderCautions(list []state.OrderCaution) app.UI {
	return app.Div().Class("stack").Body(app.Range(list).Slice(func(i int) app.UI { return orderCaution(list[i]) }))
}

func orderCaution(c state.OrderCaution) app.UI {
	return widgets.WarningCard(present.Warning{Code: "order", Level: "caution", Word: "Caution", Text: c.Text, Source: c.Source})
}

// one is the step at hand.
func (p *orderPage) one() app.UI {
	s := p.Orders
	n := len(s.View.Steps)
	return app.Div().Class("stack").Body(
		app.Div().Class("order-at").Body(
			app.P().Class("order-count").DataSet("val", "order-count").Aria("live", "polite").Text(words.S("Step %s of %s", itoa(s.Step), itoa(n))),
			app.Progress().Class("order-progress").Max(n).Attr("value", s.Step).Aria("label", words.Text("How far you are"))),
		app.Section().Class("card", "order-step").Body(p.step(s.View.Steps[s.Step-1], true)...),
	)
}

// next goes on; after the last step, to the list.
func (p *orderPage) next(n int) app.UI {
	if p.Orders.Step < n {
		return &widgets.BigButton{Act: "order-next", Label: "Done: next", Kind: widgets.Main, OnPress: post(state.OrderStepped{By: 1})}
	}
	return &widgets.BigButton{Act: "order-end", Label: "Done: that was the last", Kind: widgets.Main, OnPress: post(state.OrderClosed{})}
}

// all are all steps on one page.
func (p *orderPage) all() app.UI {
	steps := p.Orders.View.Steps
	return app.Ol().Class("order-all").DataSet("val", "order-all").Body(app.Range(steps).Slice(func(i int) app.UI {
		return app.Li().Class("card").Body(p.step(steps[i], false)...)
	}))
}

// step is one step: for whom, caution, what to do, the rig's numbers, why and source.
func (p *orderPage) step(v state.StepView, big bool) []app.UI {
	do := app.P().Class("order-do").DataSet("val", "order-do").DataSet("step", v.ID).Text(words.Text(v.Do))
	if big {
		do = do.Class("order-do-big")
	}
	return []app.UI{
		app.If(v.Only != "", func() app.UI { return app.P().Class("order-only").Text(words.S("%s:", v.Only)) }),
		app.If(v.Caution != nil, func() app.UI { return orderCaution(*v.Caution) }),
		do,
		app.If(v.Numbers != nil, func() app.UI { return p.numbers(v.ID, *v.Numbers) }),
		app.P().Class("order-why").Text(words.Text(v.Why)),
		app.P().Class("step-source").DataSet("val", "order-source").Text(words.S("Source: %s.", v.Source)),
		app.If(v.Choice != nil, func() app.UI { return &orderChoice{Step: v.ID, View: *v.Choice} }),
		app.If(v.Link != "", func() app.UI { return widgets.BigLink("order-link-"+v.ID, v.LinkLabel, v.Link, widgets.Plain) }),
	}
}

// numbers are the rig's own, or what is missing for them and the way there.
func (p *orderPage) numbers(step string, n state.StepNumbers) app.UI {
	o := present.Options{Units: p.Prefs.Units, Region: p.Prefs.Region, Currency: p.Prefs.Currency}
	if n.Missing != "" {
		return app.Div().Class("stack").Body(app.P().Class("order-missing").DataSet("val", "order-missing").Text(words.Text(n.Missing)),
			widgets.BigLink("order-way-"+step, n.Way, n.Where, widgets.Plain))
	}
	return app.Div().Class("order-numbers").Body(
		app.If(p.Orders.View.Sample, func() app.UI { return app.P().Class("order-sample").Text(words.Text("Sample rig, not yours.")) }),
		app.Range(n.Figures).Slice(func(i int) app.UI {
			f := n.Figures[i]
			value, unit := f.Words, ""
			if value == "" {
				value, unit = present.OrderFigure(f.Quantity, f.SI, f.Capped, o)
			}
			return app.P().Class("order-number").Body(app.Span().Class("order-label").Text(words.S("%s ", f.Label)),
				app.Span().DataSet("val", f.Key).Body(app.Span().Class("order-value").Text(words.Text(value)), app.If(unit != "", func() app.UI { return app.Span().Class("order-unit").Text(words.S(" %s", unit)) })))
		}),
		app.P().Class("step-source").Text(words.S("From: %s.", n.From)))
}

// ways lead back, to the other view, and to the list.
func (p *orderPage) ways() app.UI {
	s := p.Orders
	whole, aloud := "All steps on one page", "Read aloud"
	if s.Whole {
		whole = "One step a screen"
	}
	if s.Aloud {
		aloud = "Stop reading aloud"
	}
	return widgets.Actions(
		app.If(!s.Whole && s.Step > 1, func() app.UI {
			return &widgets.BigButton{Act: "order-back", Label: "One step back", OnPress: post(state.OrderStepped{By: -1})}
		}),
		&widgets.BigButton{Act: "order-aloud", Label: aloud, OnPress: post(state.OrderAloudToggled{})},
		&widgets.BigButton{Act: "order-whole", Label: whole, OnPress: post(state.OrderWholeToggled{})},
		&widgets.BigButton{Act: "order-close", Label: "All orders of work", OnPress: post(state.OrderClosed{})},
	)
}

// orderChoice is a point on which sources differ.
type orderChoice struct {
	app.Compo

	Step string
	View state.ChoiceView
}

// CompoID ties the answers to their question.
func (c *orderChoice) CompoID() string { return "order-choice-" + c.Step }

// Render gives the reason for the default before the choice.
func (c *orderChoice) Render() app.UI {
	v := c.View
	var choices []widgets.Choice
	var why []app.UI
	for _, o := range v.Options {
		choices = append(choices, widgets.Choice{Value: o.Value, Label: o.Label})
		why = append(why, app.P().Body(app.Strong().Text(words.S("%s: ", o.Label)), app.Text(words.Text(o.Why)), app.Span().Class("step-source").Text(words.S(" Source: %s.", o.Source))))
	}
	return app.Details().Class("fold", "order-choice").Body(
		app.Summary().Class("fold-head").DataSet("act", "order-choice-"+v.ID).Text(words.S("Sources differ: %s", c.chosen())),
		app.Div().Class("fold-body", "stack").Body(
			app.P().Text(words.Text(v.Reason)), app.Div().Class("stack").Body(why...),
			app.If(v.Torch != "", func() app.UI {
				return &widgets.ChoiceGroup{ID: "order-" + c.Step + "-" + v.ID, Act: v.ID, Label: words.S("For %s: %s", v.Torch, v.Question), Selected: v.Selected, Choices: choices, OnChoose: c.onChoose}
			}),
			app.If(v.Torch == "", func() app.UI {
				return app.Div().Class("stack").Body(app.P().Text(words.Text("Your own choice is kept with your torch: enter the torch under Rig first.")), widgets.BigLink("order-to-rig", "Rig", "/rig", widgets.Plain))
			})))
}

// chosen is the label of the way in force.
func (c *orderChoice) chosen() string {
	for _, o := range c.View.Options {
		if o.Value == c.View.Selected {
			return o.Label
		}
	}
	return ""
}

func (c *orderChoice) onChoose(ctx app.Context, value string) {
	action.Post(ctx, state.OrderChosen{Choice: c.View.ID, Value: value})
}
