package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/present"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// Flame shows what a flame is and does at any ratio, why it takes so much oxygen, and how the fuels compare.
type Flame struct {
	app.Compo

	Flame  state.Flame
	Prefs  state.Prefs
	ctx    *app.Context
	table  []present.FuelRow
	madeOf present.Options
}

var _ app.Mounter = (*Flame)(nil)

// OnMount keeps the page's context.
func (p *Flame) OnMount(ctx app.Context) { p.ctx = &ctx }

// Render shows the flame first.
func (p *Flame) Render() app.UI {
	opt := present.Options{Units: p.Prefs.Units, Region: p.Prefs.Region, Currency: p.Prefs.Currency}
	fuel := p.Flame.Question.Fuel
	return widgets.Page("What does this flame do?",
		app.P().Class("quiet").DataSet("val", "flame.tip").Text(words.Text(p.tip(opt))),
		&flameLive{Flame: p.Flame, Opt: opt, Outer: p.outer},
		&widgets.SelectField{ID: "flame-fuel", Act: "flame-fuel", Label: "Fuel", Choices: choices(present.Fuels()), Selected: string(fuel), OnChoose: p.onFuel},
		p.balance(),
		widgets.FuelTable(p.rows(opt)),
		widgets.Actions(widgets.BigLink("flame-to-setup", "Back to Setup", "/", widgets.Plain)),
	)
}

// tip says whose flame is drawn.
func (p *Flame) tip(o present.Options) string {
	return present.FlameTip(p.Flame.Tip, p.Flame.Question, o)
}

func (p *Flame) balance() app.UI {
	b, ok := present.NewBalanced(p.Flame.Question.Fuel)
	return app.If(ok, func() app.UI { return widgets.FlameBalance(b) })
}

// rows are written again only in other units.
func (p *Flame) rows(o present.Options) []present.FuelRow {
	if p.table == nil || p.madeOf != o {
		p.table, p.madeOf = present.NewFuelTable(o), o
	}
	return p.table
}

func (p *Flame) outer() *app.Context { return p.ctx }

func (p *Flame) onFuel(ctx app.Context, fuel string) {
	action.Post(ctx, state.FlameFuelChosen{Fuel: fuel})
}
