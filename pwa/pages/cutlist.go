package pages

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/present"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// CutList is the page of a list of cuts: whether the gas lasts for it, and after which piece it does not.
type CutList struct {
	app.Compo

	Cuts    state.CutList
	Prefs   state.Prefs
	Missing bool // the rig lacks parts

	made *present.CutList
	of   state.CutList
	opt  present.Options
}

var _ app.Mounter = (*CutList)(nil)

// OnMount has the list worked out: rig and Setup may have changed.
func (p *CutList) OnMount(ctx app.Context) { action.Post(ctx, state.CutListShown{}) }

// Render shows the answer first, then the rows.
func (p *CutList) Render() app.UI {
	c := p.Cuts
	return widgets.Page("Will the gas last for these cuts?",
		app.If(p.Missing, func() app.UI {
			return app.P().DataSet("val", "cuts.missing").Text(words.Text("The rig lacks parts: see what is missing in Setup."))
		}).ElseIf(c.Refusal != nil, p.refusal),
		p.answer(),
		app.Range(c.Rows).Slice(p.row),
		widgets.Actions(
			&widgets.BigButton{Act: "cuts-add", Label: "Add a row", Kind: widgets.Main, OnPress: post(state.CutRowAdded{})},
			app.If(c.Gone, func() app.UI {
				return &widgets.BigButton{Act: "cuts-back", Label: "Put the row back", OnPress: post(state.CutRowBack{})}
			})),
		widgets.Card("As in Setup",
			app.P().DataSet("val", "cuts.as").Text(words.Text(present.CutsOf(c.Metal, string(c.Start), c.Painted))),
			app.P().Class("quiet").Text(words.Text("Purity of the oxygen, shop temperature and altitude are also those of Setup. Every row is cut as its settings card says, hose included; there stands where each number comes from. Speeds are those of a hand.")),
			widgets.BigLink("cuts-to-setup", "To Setup", "/", widgets.Plain)),
	)
}

// view is written anew only for another answer or other units.
func (p *CutList) view() *present.CutList {
	opt := present.Options{Units: p.Prefs.Units, Region: p.Prefs.Region, Currency: p.Prefs.Currency}
	if p.Cuts.Answer == nil {
		return nil
	}
	if p.made == nil || p.of.Answer != p.Cuts.Answer || p.opt != opt {
		v := present.NewCutList(*p.Cuts.Answer, opt)
		p.made, p.of, p.opt = &v, p.Cuts, opt
	}
	return p.made
}

// answer stands before the rows: cautions, whether the gas lasts, the sums.
func (p *CutList) answer() app.UI {
	v := p.view()
	if v == nil {
		return app.If(p.Cuts.Refusal == nil && !p.Missing, func() app.UI {
			return app.P().DataSet("val", "cuts.empty").Text(words.Text("Fill in the rows below: what is cut, in which order."))
		})
	}
	level, shape := "level-note", widgets.MarkNote
	if v.Short {
		level, shape = "level-caution", widgets.MarkCaution
	}
	return app.Div().Class("stack").Body(
		widgets.StandingBox(v.Standing),
		widgets.WarningList(v.Cautions),
		app.Section().Class("notice", level).DataSet("act", "cuts-answer").Aria("live", "polite").Body(
			app.H2().Class("cuts-head").Body(widgets.MarkShape(shape), app.Text(" "), app.Span().DataSet("val", "cuts.lasts").Text(words.Text(v.Lasts))),
			app.Range(v.More).Slice(func(i int) app.UI { return app.P().Class("notice-text").Body(app.Span().Text(words.Text(v.More[i]))) })),
		widgets.WarningList(v.Checks),
		widgets.FactList(v.Facts),
	)
}

func (p *CutList) refusal() app.UI {
	opt := present.Options{Units: p.Prefs.Units, Region: p.Prefs.Region, Currency: p.Prefs.Currency}
	r := present.NewRefusal(*p.Cuts.Refusal, opt)
	if p.Cuts.Refused > 0 {
		r.Head = words.S("Row %s cannot be cut so", strconv.Itoa(p.Cuts.Refused))
	}
	return widgets.RefusalCard(r)
}

// row is one row with what it takes.
func (p *CutList) row(i int) app.UI {
	row := p.Cuts.Rows[i]
	typed := func(ctx app.Context, key, text string) {
		action.Post(ctx, state.CutRowTyped{ID: row.ID, Key: key, Text: text})
	}
	body := fields(row.Fields, "cuts-"+row.ID, typed, typed)
	if v := p.view(); v != nil {
		body = append(body, widgets.FactList(v.Rows[i]))
	}
	if len(p.Cuts.Rows) > 1 {
		body = append(body, &widgets.SmallButton{Act: "cuts-" + row.ID + "-remove", Label: words.S("Take row %s off", strconv.Itoa(i+1)), OnPress: post(state.CutRowRemoved{ID: row.ID})})
	}
	return widgets.Card(words.S("Row %s", strconv.Itoa(i+1)), body...)
}
