package journal

import (
	"encoding/json"
	"fmt"
)

// Drill is a practice exercise.
type Drill struct {
	ID    string `json:"id,omitempty"` // of a built-in drill; own drills go by their record
	Name  string `json:"name,omitempty"`
	Group string `json:"group,omitempty"`
	Aim   string `json:"aim,omitempty"`
	Look  string `json:"look,omitempty"` // what to look for

	Work       string   `json:"work,omitempty"`
	Metal      string   `json:"metal,omitempty"`
	Joint      string   `json:"joint,omitempty"`
	Position   string   `json:"position,omitempty"`
	Flame      string   `json:"flame,omitempty"`
	ThicknessM *float64 `json:"thickness_m,omitempty"`

	// Sheets in a row with an overall score of Score or better say: move on. Zero takes DefaultSheets and DefaultScore.
	Sheets int     `json:"sheets,omitempty"`
	Score  float64 `json:"score,omitempty"`
	Sample bool    `json:"sample,omitempty"`

	extra map[string]json.RawMessage
}

// The rule for moving on, where a drill has none of its own. Our own choice.
const (
	DefaultSheets = 3
	DefaultScore  = 3.0
)

// PathSource is where the practice path comes from.
const PathSource = "a practice path of our own: common practice, no source"

func mm(v float64) *float64 { v /= 1000; return &v }

// drills is the path, the easiest first: each adds one thing to the one before.
var drills = []Drill{
	{ID: "flame", Name: "Flame control", Group: "Fusion welding", Work: "weld", Metal: "mild_steel", Joint: "bead", Position: "flat", Flame: "neutral", ThicknessM: mm(1.6),
		Aim:  "Light, set neutral, go to carburizing and oxidizing and back, and shut down, ten times without a pop.",
		Look: "The feather just gone into the cone; a cone as round as the hole; no squeal."},
	{ID: "puddle", Name: "Puddle without rod", Group: "Fusion welding", Work: "weld", Metal: "mild_steel", Joint: "bead", Position: "flat", Flame: "neutral", ThicknessM: mm(1.6),
		Aim:  "Carry a puddle of one width straight across the plate, no rod.",
		Look: "Even ripples; the back just marked, never through."},
	{ID: "rod", Name: "Puddle with rod", Group: "Fusion welding", Work: "weld", Metal: "mild_steel", Joint: "bead", Position: "flat", Flame: "neutral", ThicknessM: mm(1.6),
		Aim:  "The same line, feeding the rod into the leading edge of the puddle.",
		Look: "A slight crown of one height; the rod melts in the puddle, not in the flame."},
	{ID: "corner", Name: "Outside corner", Group: "Fusion welding", Work: "weld", Metal: "mild_steel", Joint: "corner", Position: "flat", Flame: "neutral", ThicknessM: mm(1.6),
		Aim:  "Melt two edges into one corner, tacked at both ends.",
		Look: "Both edges gone; inside melted evenly; hammer it flat and look for cracks."},
	{ID: "lap", Name: "Lap", Group: "Fusion welding", Work: "weld", Metal: "mild_steel", Joint: "lap", Position: "horizontal", Flame: "neutral", ThicknessM: mm(1.6),
		Aim:  "A fillet on two sheets, one over the other, without eating the upper edge.",
		Look: "The flame more on the lower sheet; the upper edge still straight."},
	{ID: "butt", Name: "Butt", Group: "Fusion welding", Work: "weld", Metal: "mild_steel", Joint: "butt", Position: "flat", Flame: "neutral", ThicknessM: mm(1.6),
		Aim:  "Join two edges with a gap of about the rod and melt through to the back.",
		Look: "A keyhole that travels with you; an even line on the back; bend it."},
	{ID: "tee", Name: "Tee", Group: "Fusion welding", Work: "weld", Metal: "mild_steel", Joint: "tee", Position: "horizontal", Flame: "neutral", ThicknessM: mm(3),
		Aim:  "A fillet of equal legs into the root of a tee.",
		Look: "No undercut on the upright; root melted; break one open to see it."},
	{ID: "horizontal", Name: "Butt, horizontal", Group: "Positions", Work: "weld", Metal: "mild_steel", Joint: "butt", Position: "horizontal", Flame: "neutral", ThicknessM: mm(1.6),
		Aim:  "The butt with the seam level on an upright plate.",
		Look: "No sag to the lower side, no undercut on the upper."},
	{ID: "vertical", Name: "Butt, vertical up", Group: "Positions", Work: "weld", Metal: "mild_steel", Joint: "butt", Position: "vertical_up", Flame: "neutral", ThicknessM: mm(1.6),
		Aim:  "Carry the puddle upwards, the frozen bead below as its shelf.",
		Look: "Puddle small enough to stay; ripples like level steps."},
	{ID: "overhead", Name: "Butt, overhead", Group: "Positions", Work: "weld", Metal: "mild_steel", Joint: "butt", Position: "overhead", Flame: "neutral", ThicknessM: mm(1.6),
		Aim:  "A short butt from below; gloves, sleeves and collar closed first.",
		Look: "A small puddle that holds by itself; no drips."},
	{ID: "braze_lap", Name: "Brazed lap", Group: "Brazing", Work: "braze", Metal: "mild_steel", Joint: "lap", Position: "flat", Flame: "slightly_oxidizing", ThicknessM: mm(1.6),
		Aim:  "Heat the joint, not the rod, until the filler runs in by itself.",
		Look: "Thin feathered edges; filler seen on the far side; no white smoke."},
	{ID: "braze_tee", Name: "Braze-welded tee", Group: "Brazing", Work: "braze", Metal: "mild_steel", Joint: "tee", Position: "flat", Flame: "slightly_oxidizing", ThicknessM: mm(3),
		Aim:  "A fillet of filler on a tinned joint, at dull red.",
		Look: "Tinned ahead of the fillet; smooth, not pitted."},
	{ID: "cut_line", Name: "Straight cut", Group: "Cutting", Work: "cut", Metal: "mild_steel", Flame: "neutral", ThicknessM: mm(6),
		Aim:  "A hand's length along a guide, without losing the cut.",
		Look: "Drag lines nearly upright; slag that falls off; top edge sharp."},
	{ID: "cut_bevel", Name: "Bevel", Group: "Cutting", Work: "cut", Metal: "mild_steel", Flame: "neutral", ThicknessM: mm(8),
		Aim:  "The same at about 30 degrees, guided.",
		Look: "One angle all along; no notches."},
	{ID: "cut_circle", Name: "Circle", Group: "Cutting", Work: "cut", Metal: "mild_steel", Flame: "neutral", ThicknessM: mm(6),
		Aim:  "A disc with a radius guide, begun in the waste.",
		Look: "Start and end meet; the disc square all round."},
	{ID: "cut_pierce", Name: "Pierce", Group: "Cutting", Work: "cut", Metal: "mild_steel", Flame: "neutral", ThicknessM: mm(6),
		Aim:  "Pierce a hole away from the edge: raise and tilt the tip as the oxygen opens, so that nothing blows into it.",
		Look: "No slag in the tip; a hole no wider than it must be."},
	{ID: "bend_template", Name: "Bend to a template", Group: "Bending", Work: "bend", Metal: "mild_steel", Flame: "neutral", ThicknessM: mm(8),
		Aim:  "Heat one zone evenly and bend a bar to a template in one heat.",
		Look: "No light between bar and template; section kept; lies flat."},
}

// Drills is the practice path in order.
func Drills() []Drill { return clone(drills) }

// DrillByID finds a drill of the path.
func DrillByID(id string) (Drill, bool) {
	for _, d := range drills {
		if d.ID == id {
			return d, true
		}
	}
	return Drill{}, false
}

// MoveOn is the rule of the drill: how many sheets in a row, and how good.
func (d Drill) MoveOn() (sheets int, score float64) {
	sheets, score = d.Sheets, d.Score
	if sheets == 0 {
		sheets = DefaultSheets
	}
	if score == 0 {
		score = DefaultScore
	}
	return sheets, score
}

// Sheet is a new sheet with the drill's settings filled in.
func (d Drill) Sheet() Sheet {
	return Sheet{Drill: d.ID, Work: d.Work, Metal: d.Metal, Joint: d.Joint, Position: d.Position, ThicknessM: d.ThicknessM}
}

// ReadDrill reads the body of a record of kind "drill". What it does not know is kept.
func ReadDrill(body []byte) (Drill, error) {
	var d Drill
	err := decodeKeeping(body, &d, &d.extra)
	return d, err
}

// WriteDrill gives the body of an own drill; a *Problem says why it cannot be written.
func WriteDrill(d Drill) ([]byte, error) {
	if p := d.Check(); len(p) > 0 {
		return nil, p[0]
	}
	type plain Drill
	body, err := encodeKeeping(plain(d), d.extra)
	if err != nil {
		return nil, fmt.Errorf("writing a drill: %w", err)
	}
	return body, nil
}

// Check says everything that keeps an own drill from being written.
func (d Drill) Check() []*Problem {
	var c checker
	if d.Name == "" {
		c.add("name", "nothing", "a name", "the list shows it")
	}
	if d.Work == "" {
		c.add("work", "nothing", ids(works), "which scores there are goes by the work")
	}
	c.word("work", d.Work, works)
	c.word("metal", d.Metal, metals)
	c.word("joint", d.Joint, joints)
	c.word("position", d.Position, positionWords())
	c.word("flame", d.Flame, flames)
	for field, text := range map[string]string{"name": d.Name, "group": d.Group} {
		c.text(field, text, MaxWord)
	}
	for field, text := range map[string]string{"aim": d.Aim, "look": d.Look} {
		c.text(field, text, MaxText)
	}
	c.number("thickness_m", d.ThicknessM, 0.0001, 0.3, "m", "no torch of a small shop works outside this")
	sheets, score := float64(d.Sheets), d.Score
	c.number("sheets", &sheets, 0, 20, "sheets", "nobody would wait for more")
	c.number("score", &score, 0, MaxScore, "", "scores go from 0 to 4")
	return c.found
}
