package state

import "torchside/calc/words"

// Need is one thing that a settings card cannot do without, and the message that leads to where it is entered.
type Need struct {
	Act   string // ending of data-act
	Text  string // "a fuel cylinder"
	Why   string
	Label string // of the way to it
	Msg   Msg
	Stays bool // the message settles it by itself; others open a form under Rig
}

// Head is the text as a sentence of its own.
func (n Need) Head() string { return words.Capital(n.Text) + "." }

// needs lists what a settings card needs and the rig has not, in the order it is best entered.
func (a App) needs() []Need {
	var list []Need
	if _, ok := a.inUse(KindCylinder, LineFuel); !ok {
		list = append(list, a.soleNeed(KindCylinder, LineFuel, Need{Act: "cylinder", Text: "a fuel cylinder", Label: "Add a fuel cylinder",
			Why: "The fuel decides flow, pressures and cautions."}))
	}
	if _, ok := a.inUse(KindTorch, ""); !ok {
		list = append(list, a.soleNeed(KindTorch, "", Need{Act: "torch", Text: "a torch", Label: "Add a torch",
			Why: "How it mixes the gases decides both pressures."}))
	}
	if len(a.tipsSI()) == 0 {
		list = append(list, a.tipNeed())
	}
	return list
}

// soleNeed leads to the form of a new part, or puts the one that is there and not in use to use.
func (a App) soleNeed(k Kind, line string, n Need) Need {
	n.Msg = PartAdded{Kind: k, Line: line}
	for _, p := range a.parts(k) {
		if p.Line() == line && !p.Retired {
			n.Label, n.Msg, n.Stays = words.S("Use %s", a.partName(p)), PartUsed{ID: p.ID}, true
			n.Text += words.T(" that is in use")
			return n
		}
	}
	return n
}

// tipNeed leads to a tip of which nothing is known yet, or to a new one.
func (a App) tipNeed() Need {
	for _, p := range a.parts(KindTip) {
		if !p.Retired {
			name := a.partName(p)
			return Need{Act: "tip", Text: words.S("the hole of tip %s or a row of its maker's chart", name), Label: words.S("Open tip %s", name),
				Why: "Its marking alone says nothing of flow and pressure.", Msg: PartOpened{ID: p.ID}}
		}
	}
	return Need{Act: "tip", Text: "a tip with its hole or a row of the maker's chart", Label: "Add a tip",
		Why: "Its hole, or its chart, decides flow and pressures.", Msg: PartAdded{Kind: KindTip}}
}

// texts are the needs in words.
func texts(needs []Need) []string {
	var list []string
	for _, n := range needs {
		list = append(list, n.Text)
	}
	return list
}
