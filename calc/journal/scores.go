package journal

// Score is one thing to look at and to give 0 to [MaxScore] for.
type Score struct {
	ID    string
	Name  string
	About string               // what to look at, one line
	Steps [MaxScore + 1]string // what 0 to MaxScore mean
	// Limits are published limits that help to judge; none where no source is known. They decide nothing.
	Limits []Limit
	// Source tells where the term comes from; "common practice, no source" for steps of our own is said by ScaleSource.
	Source string
}

// Limit is what a standard allows, as published.
type Limit struct {
	Text       string
	SI         float64 // in Unit; 0 when the limit is in words
	Unit       string
	Source     string
	FromMemory bool // not read in its source yet: it may make a judgement stricter, it never lets anything pass
}

// ScaleSource is where the words of the steps come from.
const ScaleSource = "the words of the steps are our own: common practice, no source"

// Sources of limits and terms.
const (
	d11Visual  = "AWS D1.1:2000 Table 6.1 (visual, statically loaded)"
	d11Profile = "AWS D1.1 profile table (second-hand)"
	d11Bend    = "AWS D1.1:2015 clause 4.9.3.3"
	iso9013    = "ISO 9013:2017, from memory"
	a30        = "AWS A3.0 terms, from memory"
	practice   = "common practice, no source"
)

// distortion is looked for after welding and after brazing.
var distortion = Score{ID: "distortion", Name: "Distortion", About: "Is the work still straight and square?", Source: practice, Steps: [5]string{
	"unusable", "badly pulled", "pulled, can be straightened", "slight", "none to be seen"}}

var weldScores = []Score{
	{ID: "width", Name: "Even width", About: "Does the bead keep its width from start to end?", Source: practice, Steps: [5]string{
		"breaks off or doubles its width", "wanders by half its width", "wanders by a third", "even with one or two slips", "even all along"}},
	{ID: "ripple", Name: "Ripples", About: "Are the ripples alike, close and evenly spaced?", Source: practice, Steps: [5]string{
		"none to be seen, or lumps", "coarse and irregular", "regular for half the length", "regular, few breaks", "fine and regular all along"}},
	{ID: "reinforcement", Name: "Reinforcement", About: "Is the face slightly crowned: not sunk, not piled up?", Source: a30,
		Limits: []Limit{{"convexity at most 1/16 in (2 mm) on a face up to 5/16 in (8 mm)", 0.002, "m", d11Profile, false}}, Steps: [5]string{
			"sunk below the plate or piled up", "much too high or too low", "too high or too low in places", "nearly level crown", "slight, level crown"}},
	{ID: "undercut", Name: "Undercut", About: "Is there a groove melted into the plate beside the bead?", Source: a30,
		Limits: []Limit{{"at most 1/32 in (1 mm) on base metal under 1 in", 0.001, "m", d11Visual, false},
			{"up to 1/16 in (2 mm) on at most 2 in of any 12 in", 0.002, "m", d11Visual, false}}, Steps: [5]string{
			"deep groove along the bead", "over the limit in places", "to be felt, within the limit", "a trace", "none"}},
	{ID: "penetration", Name: "Penetration", About: "Turn it over: is the back melted through evenly?", Source: a30,
		Limits: []Limit{{Text: "fusion complete between layers and with the base", Source: d11Visual}}, Steps: [5]string{
			"none, or burned through", "in spots only", "half the length", "nearly all along", "even line all along the back"}},
	{ID: "porosity", Name: "Porosity", About: "Are there holes or pits in the bead?", Source: a30,
		Limits: []Limit{{"piping pores of 1/32 in or more: sum at most 3/8 in (10 mm) in any inch", 0.010, "m", d11Visual, false},
			{"sum at most 3/4 in (20 mm) in any 12 in", 0.020, "m", d11Visual, false}}, Steps: [5]string{
			"spongy", "many", "several", "one or two small", "none"}},
	{ID: "tie_in", Name: "Tie-in", About: "Do start, stops and crater run into each other and into the edges?", Source: practice,
		Limits: []Limit{{Text: "crater filled to the full cross-section; no cracks, whatever their size", Source: d11Visual}}, Steps: [5]string{
			"cracked, or lies on top", "cold lap or open crater", "crater low, some edges missed", "good but for one place", "starts and stops hard to find"}},
	distortion,
}

// cutScores: the terms (perpendicularity or angularity tolerance, drag, dross, gouging, melting of the top edge) are those of
// ISO 9013, from memory; the standard gives limits by ranges of thickness.
var cutScores = []Score{
	{ID: "squareness", Name: "Squareness", About: "Perpendicularity: is the cut face square to the plate and flat?", Source: iso9013,
		Limits: []Limit{{Text: "u in range 4: at most 0.8 mm + 0.02 × thickness; range 5: 1.2 mm + 0.035 × thickness", Source: iso9013, FromMemory: true}}, Steps: [5]string{
			"not cut through", "leaning or hollow by far", "visibly off square", "nearly square", "square and flat"}},
	{ID: "drag", Name: "Drag", About: "How far do the drag lines lag behind from top to bottom?", Source: iso9013, Steps: [5]string{
		"cut lost", "lines sweep far back", "clear lag", "slight lag", "lines nearly upright"}},
	{ID: "slag", Name: "Slag", About: "Dross: what hangs at the bottom edge, and how hard does it sit?", Source: iso9013, Steps: [5]string{
		"welded shut behind the cut", "hard beads all along, to be ground", "beads in places, chisel", "thin, comes off with a scraper", "none, or falls off"}},
	{ID: "gouges", Name: "Gouges", About: "Gouging: notches where the torch stuttered or the cut was lost?", Source: iso9013, Steps: [5]string{
		"cut lost and begun again", "deep notches", "several shallow ones", "one shallow one", "none"}},
	{ID: "top_edge", Name: "Top edge", About: "Melting of the top edge: sharp, rounded or beaded?", Source: iso9013, Steps: [5]string{
		"melted away", "rounded with beads", "rounded", "slightly rounded", "sharp"}},
	{ID: "line", Name: "On the line", About: "Does the cut follow the mark?", Source: practice, Steps: [5]string{
		"off by more than the kerf, no use", "wanders by a kerf", "wanders by half a kerf", "close, one slip", "on the line all along"}},
}

var brazeScores = []Score{
	{ID: "fill", Name: "Fill", About: "Did the filler run through the whole joint?", Source: practice, Steps: [5]string{
		"not in the joint", "one side only", "gaps", "a small gap", "full fillet all round, seen on the far side"}},
	{ID: "wetting", Name: "Wetting", About: "Does the filler run out thin at its edges, or sit like a drop?", Source: practice, Steps: [5]string{
		"balls up", "edges rolled", "wets in places", "wets, one rolled edge", "feathers out everywhere"}},
	{ID: "overheating", Name: "Overheating", About: "Burnt flux, fuming zinc, pitted filler, melted base?", Source: practice, Steps: [5]string{
		"base melted", "fumed and pitted", "flux burnt in places", "a dark spot", "none"}},
	{ID: "clean", Name: "Clean", About: "Flux off, no pits, no filler where it was not wanted?", Source: practice, Steps: [5]string{
		"flux and filler everywhere", "much to grind", "some to grind", "a little to brush", "clean"}},
	distortion,
}

var bendScores = []Score{
	{ID: "shape", Name: "To the template", About: "Lay it on the template: where is light to be seen?", Source: practice, Steps: [5]string{
		"another shape", "off by more than the bar is thick", "off by half of that", "close, one gap", "no light"}},
	{ID: "section", Name: "Section kept", About: "Is the bar flattened, kinked or thinned in the bend?", Source: practice, Steps: [5]string{
		"kinked or torn", "badly flattened", "flattened", "slightly", "section kept"}},
	{ID: "heat", Name: "Even heat", About: "Was the zone one colour all round, and as long as wanted?", Source: practice, Steps: [5]string{
		"melted or burnt", "one side only", "patchy", "nearly even", "even all round"}},
	{ID: "twist", Name: "Twist", About: "Does it lie flat on the plate?", Source: practice, Steps: [5]string{
		"unusable", "badly twisted", "twisted", "slightly", "flat"}},
}

// ScoresFor returns the fixed set of scores of a work, in the order of the page; none for an unknown work. Heating is scored
// like bending.
func ScoresFor(work string) []Score {
	switch work {
	case "weld":
		return clone(weldScores)
	case "cut":
		return clone(cutScores)
	case "braze":
		return clone(brazeScores)
	case "heat", "bend":
		return clone(bendScores)
	}
	return nil
}

// ScoreByID finds a score in the set of a work; ok is false when it has none of that name.
func ScoreByID(work, id string) (Score, bool) {
	for _, s := range ScoresFor(work) {
		if s.ID == id {
			return s, true
		}
	}
	return Score{}, false
}

// TestLimits are the published limits for what may be seen in a bend test.
func TestLimits() []Limit {
	return []Limit{
		{"no single open crack or pore over 1/8 in (3 mm), in any direction", 0.003, "m", d11Bend, false},
		{"a crack from the corner at most 1/4 in (6 mm); 1/8 in (3 mm) if slag or poor fusion shows", 0.006, "m", d11Bend, false},
	}
}
