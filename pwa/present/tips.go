package present

import (
	"strconv"

	"torchside/calc/flame"
	"torchside/calc/gas"
	"torchside/calc/setup"
	"torchside/calc/words"
)

// TipList is the choice of tips for a question: the best, any other that fits, and those that do not, with the reason.
type TipList struct {
	Choices  []TipChoice // the best first
	Selected string      // Value of the one chosen; empty when it is not among them
	Unfit    []Line
}

// TipChoice is one tip to choose. Value is a key of this list alone; Label is the tip's, empty for the best.
type TipChoice struct{ Value, Label, Title, Note string }

// bestTip is the Value that leaves the choice to the numbers.
const bestTip = "best"

// TipsOf lists the tips that a card tells of.
func TipsOf(c *setup.Card, asked string, o Options) TipList {
	return NewTipList(c.Tips, asked, gas.Gas(c.FuelName), o)
}

// NewTipList lists the tips of a rig for one question. asked is the label of the tip chosen by hand, empty for the best.
func NewTipList(tips []setup.TipVerdict, asked string, fuel gas.Gas, o Options) TipList {
	sc := newScaler(o, fuel)
	l := TipList{Choices: []TipChoice{{Value: bestTip, Title: "The best fit", Note: "none fits now"}}}
	seen := map[string]bool{}
	for i, v := range tips {
		if v.Best {
			l.Choices[0].Note = words.S("now tip %s", v.Label)
		}
		switch {
		case !v.Fits:
			l.Unfit = append(l.Unfit, Line{words.S("Tip %s", v.Label), finished(o.Units.Say(unfitText(v)))})
		case !seen[v.Label]:
			seen[v.Label] = true
			l.Choices = append(l.Choices, TipChoice{strconv.Itoa(i), v.Label, words.S("Tip %s", v.Label), tipNote(v, sc)})
		}
	}
	for _, c := range l.Choices {
		if c.Label == asked {
			l.Selected = c.Value
		}
	}
	return l
}

// Label is the label of a chosen Value; ok is false for a value that is not in the list.
func (l TipList) Label(value string) (label string, ok bool) {
	for _, c := range l.Choices {
		if c.Value == value {
			return c.Label, true
		}
	}
	return "", false
}

// Worth reports whether there is anything to choose or to tell.
func (l TipList) Worth() bool { return len(l.Choices)+len(l.Unfit) > 2 || l.Selected != bestTip }

// tipNote tells in a few words how a tip would burn.
func tipNote(v setup.TipVerdict, sc scaler) string {
	parts := []string{sc.of("fuel.flow_std_m3_s").text(v.FuelFlowStd)}
	if v.ExitClass != "" {
		parts = append(parts, exitName(v.ExitClass))
	}
	if v.MakersRow {
		parts = append(parts, "maker's chart")
	}
	return words.Join(parts, ", ")
}

// unfitText is the reason without the limits behind it: these are on the tip's own refusal.
func unfitText(v setup.TipVerdict) string {
	if v.Code == "tip_hole" {
		text := words.Before(v.Why, ", usable are")
		return words.Before(text, ". A tip of the right hole") // holds for the rig, not for this tip
	}
	return plain(v.Why)
}

// alsoFits names the other tips that fit; empty when there are none.
func (b *builder) alsoFits() string {
	var names []string
	for _, v := range b.card.Tips {
		if !v.Fits || v.Chosen || v.Label == b.card.Tip {
			continue
		}
		name := v.Label
		if v.ExitClass != "" {
			name += words.S(" (%s)", exitName(v.ExitClass))
		}
		names = append(names, name)
	}
	if len(names) == 0 {
		return ""
	}
	return words.S("Also fits: %s.", words.Join(names, ", "))
}

// exitName names a flame by its exit velocity in two or three words.
func exitName(class string) string {
	switch flame.ExitClass(class) {
	case flame.TooSlow:
		return "limp flame"
	case flame.TooFast:
		return "flame too fast"
	}
	return words.S("%s flame", plain(class))
}
