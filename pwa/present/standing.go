package present

import (
	"strings"

	"torchside/calc/words"
)

// standing are the cautions that hold for every card of their kind, by code, in a few words. They are gathered in one box at
// the head of the card, before every number; the full texts and their sources are one tap away. A caution that is not in this
// list depends on the answer and is shown in full before its number.
var standing = map[string]string{
	"ventilation":         "fresh air",
	"fire_watch":          "fire watch 60 min",
	"closed_vessel":       "no closed vessel",
	"chlorinated_solvent": "no chlorinated solvent",
	"oil_on_oxygen":       "no oil on oxygen",
	"acetylene_pressure":  words.S("acetylene at most %s", limitPlace),
	"cylinder_upright":    "cylinder upright",
}

// limitPlace stands for the limit of acetylene in the owner's unit.
const limitPlace = "{limit}"

// takeStanding hands out the standing cautions; limit is the limit of acetylene in words.
func (ws *warnings) takeStanding(limit string) []Warning {
	var out []Warning
	left := ws.left[:0:0]
	for _, w := range ws.left {
		v := newWarning(w)
		v.Short = strings.ReplaceAll(standing[w.Code], limitPlace, limit)
		if v.Short == "" || v.Level != "caution" {
			left = append(left, w)
			continue
		}
		out = append(out, v)
	}
	ws.left = left
	return out
}
