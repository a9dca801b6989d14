package journal

// Word is one word of a fixed list: as JSON has it, and for a person.
type Word struct{ ID, Name string }

// Works, metals and joints carry the words of calc/setup, so that a settings card fits a sheet.
var (
	works = []Word{{"weld", "Weld"}, {"braze", "Braze"}, {"heat", "Heat"}, {"bend", "Bend"}, {"cut", "Cut"}}

	metals = []Word{{"mild_steel", "Mild steel"}, {"galvanised_steel", "Galvanised steel"}, {"stainless_steel", "Stainless steel"},
		{"cast_iron", "Cast iron"}, {"copper", "Copper"}, {"brass", "Brass"}, {"aluminium", "Aluminium"}, {"other", "Other metal"}}

	joints = []Word{{"butt", "Butt"}, {"corner", "Corner"}, {"lap", "Lap"}, {"tee", "Tee"}, {"edge", "Edge"}, {"bead", "Bead on plate"}}

	flames = []Word{{"carburizing", "Carburizing"}, {"slightly_carburizing", "Slightly carburizing"}, {"neutral", "Neutral"},
		{"slightly_oxidizing", "Slightly oxidizing"}, {"oxidizing", "Oxidizing"}}

	roles = []Word{{"before", "Before"}, {"after", "After"}, {"back", "Back side"}, {"bend", "Bend or break"}, {"other", "Other"}}

	tests = []Word{{"face_bend", "Face bend"}, {"root_bend", "Root bend"}, {"break", "Break test"}, {"peel", "Peel test"}, {"leak", "Held tight"}}
)

// Works lists what was done with the flame.
func Works() []Word { return clone(works) }

// Metals lists the base metals: those of calc/setup and "other".
func Metals() []Word { return clone(metals) }

// Joints lists the joints: those of calc/setup and a bead on plate.
func Joints() []Word { return clone(joints) }

// Flames lists the flames as they are judged by eye.
func Flames() []Word { return clone(flames) }

// Roles lists what a photo shows.
func Roles() []Word { return clone(roles) }

// Tests lists the tests a coupon is put to.
func Tests() []Word { return clone(tests) }

// Position is a welding position with its codes.
type Position struct {
	ID, Name string
	Groove   string // code of a groove (butt) weld in plate, as 1G
	Fillet   string // code of a fillet (lap, tee) weld, as 1F
	ISO      string // code of ISO 6947
}

// positions: the numbers 1 to 4 with G for groove and F for fillet are the designations of the American Welding Society as a
// U.S. Navy steelworker manual prints them ("Welding positions—plate", figure 3-29: "1G refers to a groove weld that is to be
// made in the flat position"). The ISO letters are those of ISO 6947, as common charts print them, from memory; a
// fillet in the horizontal position is PB there, a groove PC.
var positions = []Position{
	{"flat", "Flat", "1G", "1F", "PA"},
	{"horizontal", "Horizontal", "2G", "2F", "PC or PB"},
	{"vertical_up", "Vertical, upward", "3G", "3F", "PF"},
	{"vertical_down", "Vertical, downward", "3G", "3F", "PG"},
	{"overhead", "Overhead", "4G", "4F", "PE or PD"},
}

// Positions lists the welding positions.
func Positions() []Position { return clone(positions) }

// Code is the usual code of the position for a joint: a groove weld for butt, edge and corner, a fillet for lap and tee.
// Empty when the position is not known or the joint has none.
func (p Position) Code(joint string) string {
	switch joint {
	case "butt", "corner", "edge":
		return p.Groove
	case "lap", "tee":
		return p.Fillet
	}
	return ""
}

// Name is the name for a person of a word in any of the fixed lists; an unknown word is returned as it is.
func Name(id string) string {
	for _, list := range [][]Word{works, metals, joints, flames, roles, tests, positionWords()} {
		for _, w := range list {
			if w.ID == id {
				return w.Name
			}
		}
	}
	return id
}

func positionWords() []Word {
	list := make([]Word, len(positions))
	for i, p := range positions {
		list[i] = Word{p.ID, p.Name}
	}
	return list
}

func hasWord(list []Word, id string) bool {
	for _, w := range list {
		if w.ID == id {
			return true
		}
	}
	return false
}

func ids(list []Word) string {
	text := ""
	for i, w := range list {
		if i > 0 {
			text += ", "
		}
		text += w.ID
	}
	return text
}
