package state

import (
	"slices"
	"strconv"
	"strings"

	"torchside/calc/cut"
	"torchside/calc/order"
	"torchside/calc/setup"
	"torchside/calc/units"
	"torchside/calc/words"
)

// Wall is the card for the wall: this rig on one page of paper.
type Wall struct {
	Rows    []WallRow
	Missing string      // why there are no rows
	Limits  []WallLine  // what must not be passed, before any number
	Orders  []WallOrder // what to do, the emergency first
	GetOut  order.GetOut
	Problem string // why the orders are not there
	Rig     string // the rig in a line
	Date    string

	asked bool // for the text of the orders
}

// WallRow is what to set for a work.
type WallRow struct {
	Work, Thickness, Tip, Oxygen, Fuel, Shade, From string
}

// WallLine is a limit with its source.
type WallLine struct{ Text, Source string }

// WallOrder is an order of work in short: what is to be done, without why.
type WallOrder struct {
	ID, Title string
	Emergency bool
	Steps     []string
}

// WallShown makes the card anew.
type WallShown struct{}

func (WallShown) msg() {}

func reduceWall(a App, m Msg) (App, []Effect, bool) {
	switch m := m.(type) {
	case WallShown:
		a = a.wallMade()
		if a.Orders.Ready {
			return a.wallOrders(), nil, true
		}
		a.Wall.asked = true
		return a, []Effect{ReadStatic{Address: ordersFile}}, true
	case StaticRead:
		if !a.Wall.asked || m.Address != ordersFile {
			return a, nil, false
		}
		a.Wall.asked = false
		a, effects, ok := reduceOrders(a, m)
		return a.wallOrders(), effects, ok
	}
	return a, nil, false
}

// wallOrders puts the orders on the card; what cannot be read is said on it, because an empty place would be taken for nothing to do.
func (a App) wallOrders() App {
	w := &a.Wall
	w.Problem, w.Orders = "", nil
	if !a.Orders.Ready {
		w.Problem = words.S("The orders of work could not be read: %s Open this page again before you print it.", a.Orders.Problem)
		return a
	}
	w.GetOut = a.Orders.Book.GetOut
	for _, id := range []string{"squeals", "popped", orderLight, "close"} {
		one, err := a.wallOrder(id)
		if err != nil {
			w.Problem = words.S("An order of work is missing: %s.", shorten(err.Error()))
			continue
		}
		w.Orders = append(w.Orders, one)
		if id == orderLight && slices.ContainsFunc(w.Rows, func(r WallRow) bool { return r.Work == wallNames[string(setup.Cut)] }) {
			w.Orders = append(w.Orders, a.wallCutting(one))
		}
	}
	return a
}

// The orders of lighting, by what is on the torch.
const (
	orderLight        = "light"
	orderLightCutting = "light-cutting"
)

// wallOrder is an order in short.
func (a App) wallOrder(id string) (WallOrder, error) {
	o, _ := a.Orders.Book.Order(id) // one that is missing has no steps, which is an error
	steps, err := a.Orders.Book.Steps(id, a.orderFacts())
	if err != nil {
		return WallOrder{}, err
	}
	one := WallOrder{ID: id, Title: o.Title, Emergency: o.Emergency}
	for _, s := range steps {
		text := s.Do
		if s.Only != "" {
			text = words.S("%s: %s", s.Only, text)
		}
		one.Steps = append(one.Steps, text)
	}
	return one, nil
}

// wallCutting are the steps of lighting that a cutting head has besides those of a flame, or in place of them.
func (a App) wallCutting(flame WallOrder) WallOrder {
	one, err := a.wallOrder(orderLightCutting)
	if err != nil {
		return WallOrder{ID: orderLightCutting, Title: words.S("The order for a cutting head is missing: %s", shorten(err.Error()))}
	}
	one.Title = words.S("%s: as a tip, but", one.Title)
	one.Steps = slices.DeleteFunc(one.Steps, func(step string) bool { return slices.Contains(flame.Steps, step) })
	return one
}

// wallWork is one row to be asked for.
type wallWork struct {
	work, metal, joint string
	mm                 float64
	inch               string
}

var wallWorks = []wallWork{
	{"weld", "mild_steel", "butt", 0.8, "1/32"}, {"weld", "mild_steel", "butt", 1.5, "1/16"}, {"weld", "mild_steel", "butt", 3, "1/8"}, {"weld", "mild_steel", "butt", 5, "3/16"},
	{"braze", "mild_steel", "lap", 1.5, "1/16"}, {"braze", "mild_steel", "lap", 3, "1/8"},
	{"heat", "mild_steel", "", 6, "1/4"}, {"heat", "mild_steel", "", 12, "1/2"},
	{"cut", "mild_steel", "", 6, "1/4"}, {"cut", "mild_steel", "", 12, "1/2"}, {"cut", "mild_steel", "", 25, "1"},
}

// wallNames are the works as the card calls them: a bend is heated as any other work (calc/setup asks the same flow of both).
var wallNames = map[string]string{"weld": "Weld steel", "braze": "Braze steel", "heat": "Heat or bend steel", "cut": "Cut steel"}

// wallMade asks for every work what Setup would say of it. A work this rig does not suit has no row.
func (a App) wallMade() App {
	w := &a.Wall
	w.Rows, w.Missing, w.Limits = nil, "", a.wallLimits()
	w.Rig, w.Date = a.wallRig(), a.today().String()
	if len(a.Rig.Missing) > 0 {
		w.Missing = words.S("Still needed: %s.", words.Join(a.Rig.Missing, "; "))
		return a
	}
	if len(a.Rig.Stops) > 0 {
		w.Missing = words.Join(a.Rig.Stops, " ")
		return a
	}
	us := a.Prefs.Units.IsUS()
	for _, one := range wallWorks {
		if row, ok := a.wallRow(one, us); ok {
			w.Rows = append(w.Rows, row)
		}
	}
	if len(w.Rows) == 0 {
		w.Missing = "No tip of this rig suits the works of this card."
	}
	return a
}

func (a App) wallRow(one wallWork, us bool) (WallRow, bool) {
	field := units.Field{Name: "Thickness", Quantity: units.QuantityThickness, Unit: a.Prefs.Units.Unit(units.QuantityThickness)}
	text := words.Number(strconv.FormatFloat(one.mm, 'g', 4, 64)) + " mm"
	if us {
		text = one.inch + " in"
	}
	p, err := field.Parse(text)
	if err != nil {
		return WallRow{}, false
	}
	in := setup.Input{Work: setup.Work(one.work), Metal: setup.Metal(one.metal), Joint: setup.Joint(one.joint), ThicknessM: p.SI, Rig: a.rigSI(),
		TemperatureK: a.Prefs.number(PrefTemperature), AmbientAbsPa: float64(a.barometer())}
	if in.Work == setup.Cut {
		in.Cut = &setup.CutQuestion{Start: cut.Edge}
	}
	c, err := setup.Compute(in)
	if err != nil {
		return WallRow{}, false
	}
	from := c.Provenance["oxygen.regulator_gauge_pa"]
	kind := string(from.Kind)
	if from.FromMemory {
		kind += words.T(", from memory")
	}
	return WallRow{Work: words.T(wallNames[one.work]), Thickness: text, Tip: c.Tip, Oxygen: a.pressureText(c.Oxygen.RegulatorGaugePa),
		Fuel: a.pressureText(c.Fuel.RegulatorGaugePa), Shade: shadeText(c.Shade), From: strings.ReplaceAll(kind, "_", " ")}, true
}

func (a App) pressureText(pa float64) string {
	return words.Number(units.Format(units.QuantityPressure, pa, a.Prefs.Units.Unit(units.QuantityPressure), 0))
}

func shadeText(s setup.Shade) string {
	if s.RecommendedLow == s.RecommendedHigh {
		return strconv.Itoa(s.RecommendedLow)
	}
	return strconv.Itoa(s.RecommendedLow) + "–" + strconv.Itoa(s.RecommendedHigh)
}

// wallRig names the parts in use.
func (a App) wallRig() string {
	var list []string
	if t, ok := a.inUse(KindTorch, ""); ok {
		list = append(list, a.partName(t))
	}
	for _, line := range []string{LineOxygen, LineFuel} {
		if c, ok := a.inUse(KindCylinder, line); ok {
			list = append(list, a.partName(c))
		}
	}
	return words.Join(list, " · ")
}

// wallLimits are rows ACE-P1, ACE-V1, ACE-V2, HOT-2, HOT-3 and SEP-6 of testdata/reference/limits.csv; the tests hold them to it.
func (a App) wallLimits() []WallLine {
	list := []WallLine{
		{"Oxygen: no oil, no grease, valve opened slowly, then fully.", "NAVEDTRA 14119"},
		{"Cylinders upright and secured.", "29 CFR 1910.253(b)"},
		{"Burnable things 35 ft (10.7 m) away. Fire watch 60 minutes after the last flame.", "29 CFR 1910.252(a)(2); NFPA 51B, 2019 edition"},
	}
	if a.FuelInUse() == "acetylene" || a.FuelInUse() == "" {
		rule := Rules()[0]
		for _, r := range Rules() {
			if r.Value == a.Prefs.WithdrawalRule {
				rule = r
			}
		}
		list = append([]WallLine{
			{"Acetylene: never above 15 psi (103 kPa, 1.03 bar) at the regulator.", "29 CFR 1910.253(a)(2)"},
			{"Acetylene valve: 3/4 turn, never more than 1 1/2; the key stays on it.", "WAC 296-307-48019(9); 29 CFR 1926.350(d)"},
			{words.S("Acetylene: draw at most %s.", rule.Label), rule.Note},
		}, list...)
	}
	return list
}
