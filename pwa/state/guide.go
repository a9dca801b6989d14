package state

import "strconv"

// The first steps lead from the safety notice, which is the first screen, to a settings card and a leak test. The screen is a preference, so that
// a reload goes on where it was; each screen can end them for good, and nothing in them is to be had nowhere else.
const (
	GuideUnits   = 2
	GuideRig     = 3
	GuideCard    = 4
	GuideLeak    = 5
	GuideScreens = 5
)

const prefGuide = "first_steps"

// GuideWent goes to a screen of the first steps; 0 ends them.
type GuideWent struct{ Screen int }

// GuideAsked has Setup answer a usual question for the rig there is, and goes on to the card.
type GuideAsked struct{}

func (GuideWent) msg()  {}
func (GuideAsked) msg() {}

// guideScreen reads the stored screen; anything else is none.
func guideScreen(text string) int {
	n, err := strconv.Atoi(text)
	if err != nil || n < GuideUnits || n > GuideScreens {
		return 0
	}
	return n
}

// noticeAccepted notes it, and begins the first steps where they were asked for and there is no rig yet.
func (a App) noticeAccepted(m NoticeAccepted) (App, []Effect) {
	a, effects := a.chosen(prefNotice, "yes")
	if m.Guide && len(a.Rig.parts) == 0 {
		var more []Effect
		a, more = a.chosen(prefGuide, strconv.Itoa(GuideUnits))
		effects = append(effects, more...)
	}
	return a, append(effects, ShowTop{})
}

func (a App) guideWent(m GuideWent) (App, []Effect) {
	a, effects := a.chosen(prefGuide, strconv.Itoa(guideScreen(strconv.Itoa(m.Screen))))
	return a, append(effects, ShowTop{})
}

// guideAsked asks for the work that most begin with.
func (a App) guideAsked() (App, []Effect) {
	thickness := "3 mm"
	if a.Prefs.Units.IsUS() {
		thickness = "1/8 in"
	}
	var effects []Effect
	for _, m := range []Msg{
		SetupChosen{Field: "work", Value: "weld"}, SetupChosen{Field: "metal", Value: "mild_steel"}, SetupChosen{Field: "joint", Value: "butt"},
		SetupTyped{Field: "thickness", Text: thickness}, GuideWent{Screen: GuideCard},
	} {
		var more []Effect
		a, more = a.Reduce(m)
		effects = append(effects, more...)
	}
	return a, effects
}
