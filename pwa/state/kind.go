package state

// Kind is the kind of a part, as its record names it.
type Kind string

// The kinds of part. A chart row is one row of a torch maker's chart and belongs to a tip.
const (
	KindCylinder  Kind = "cylinder"
	KindRegulator Kind = "regulator"
	KindHose      Kind = "hose"
	KindArrestor  Kind = "arrestor"
	KindTorch     Kind = "torch"
	KindTip       Kind = "tip"
	KindChartRow  Kind = "chart_row"
)

// KindPreference is the kind of a record that holds one preference.
const KindPreference = "preference"

// Lines of a rig.
const (
	LineOxygen = "oxygen"
	LineFuel   = "fuel"
)

// Schema is the form of the bodies this build writes; the package's Part describes it.
const Schema = 1

// kindInfo is what is fixed about one kind.
type kindInfo struct {
	title string // of one part, in a sentence's start
	group string // heading of the list
	add   string // label of the way to add one
	lined bool   // there are two of them, one for each gas
	sole  bool   // one of a line is in use; of the others all that are not retired count

	addOxygen, addFuel string // labels of the ways to add one of a line
}

var kinds = map[Kind]kindInfo{
	KindCylinder: {title: "Cylinder", group: "Cylinders", lined: true, sole: true,
		addOxygen: "Add for oxygen", addFuel: "Add for fuel"},
	KindRegulator: {title: "Regulator", group: "Regulators", lined: true, sole: true,
		addOxygen: "Add for oxygen", addFuel: "Add for fuel"},
	KindHose: {title: "Hose", group: "Hoses", lined: true, sole: true,
		addOxygen: "Add for oxygen", addFuel: "Add for fuel"},
	KindArrestor: {title: "Arrestor or check valve", group: "Flashback arrestors and check valves", lined: true,
		addOxygen: "Add for oxygen", addFuel: "Add for fuel"},
	KindTorch:    {title: "Torch", group: "Torch", add: "Add a torch", sole: true},
	KindTip:      {title: "Tip", group: "Tips and the maker's chart", add: "Add a tip"},
	KindChartRow: {title: "Chart row", group: "Chart rows", add: "Add a row"},
}

// partKinds is the order of the list; chart rows stand under their tip.
var partKinds = []Kind{KindCylinder, KindRegulator, KindHose, KindArrestor, KindTorch, KindTip}

// isPart tells whether a record kind is a part of the rig.
func isPart(kind string) bool {
	_, ok := kinds[Kind(kind)]
	return ok
}
