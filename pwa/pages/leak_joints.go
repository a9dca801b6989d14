package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/present"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// joints lists where to put the soap, likeliest first.
func (t *leakTest) joints() app.UI {
	list := t.View.Joints
	return app.If(len(list) > 0, func() app.UI {
		return widgets.Card("Where to look, likeliest first",
			app.P().Text(words.Text("Order by common practice, no source. Soap made for oxygen service, pressure on; let it off before you touch a nut.")),
			app.Range(list).Slice(func(i int) app.UI {
				return &jointRow{ID: t.View.Test.ID, Joint: present.NewJointLine(list[i].Joint), State: list[i].State, Number: i + 1}
			}))
	})
}

// jointRow is one place to soap, with what was found.
type jointRow struct {
	app.Compo

	ID     string // of the test
	Joint  present.JointLine
	State  string
	Number int
}

// CompoID keeps the choice of one joint from passing to another.
func (j *jointRow) CompoID() string { return "joint-" + j.ID + j.Joint.Code }

// jointStates are what can be found at a joint.
var jointStates = []widgets.Choice{{Value: "soaped", Label: "No bubbles"}, {Value: "bubbles", Label: "Bubbles"}, {Value: "fixed", Label: "Fixed"}}

// Render shows the joint, what was found, and what to do about it once it bubbles.
func (j *jointRow) Render() app.UI {
	return app.Div().Class("joint").Body(
		&widgets.ChoiceGroup{ID: "joint-" + j.Joint.Code, Act: "joint-" + j.Joint.Code, Label: words.S("%s. %s", itoa(j.Number), j.Joint.Name),
			Choices: jointStates, Selected: j.State, OnChoose: j.onChoose},
		app.If(j.State == "bubbles" || j.State == "fixed", func() app.UI { return app.P().Class("quiet").Text(words.S("Let the pressure off. %s", j.Joint.Hint)) }))
}

func (j *jointRow) onChoose(ctx app.Context, value string) {
	action.Post(ctx, state.JointMarked{ID: j.ID, Joint: j.Joint.Code, State: value})
}
