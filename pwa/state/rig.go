package state

import (
	"slices"
	"strings"

	"torchside/calc/gas"
	"torchside/calc/setup"
	"torchside/calc/words"
	"torchside/storage"
)

// Rig is the owner's parts, ready to show.
type Rig struct {
	Groups     []Group
	Form       *Form    // the open form; nil when the list is shown
	Empty      bool     // no part at all
	Sample     bool     // parts of the sample rig are among them
	Missing    []string // what a settings card still needs, in words
	Needs      []Need   // the same, with the way to each
	Stops      []string // what must not be used together: Setup gives no card for it
	Unfinished []Unfinished

	parts map[string]Part
}

// Group is one heading of the list.
type Group struct {
	Kind  Kind
	Title string
	Add   string // label of the way to add one
	Lined bool   // one is added for oxygen or for fuel
	// AddOxygen and AddFuel are the labels of both ways to add a part of a line.
	AddOxygen, AddFuel string
	Parts              []PartView
	Spares             []PartView // retired
}

// PartView is one line of the list.
type PartView struct {
	ID      string
	Kind    Kind
	Name    string
	Line    string // "oxygen" or "fuel" for a part of a line
	Gas     string // name of the gas, always shown beside a line's colour
	GasName string // JSON name of the gas, for the colour; a fuel line without a fuel counts as acetylene's
	Facts   []string
	InUse   bool
	CanUse  bool // it can be made the one in use
	Retired bool
	Sample  bool
	Split   bool // changed in two places: the owner has to choose
	Rows    []RowView
}

// RowView is one row of a maker's chart.
type RowView struct {
	ID                              string
	Work, Thickness, Oxygen, Fuel   string
	OxygenFlow, FuelFlow, Condition string
	Sample                          bool
}

// rebuilt makes everything shown anew from records, preferences and drafts. It is called when one of them has changed.
func (a App) rebuilt() App {
	a = a.readPrefs()
	a.Rig.parts = map[string]Part{}
	damaged := 0
	for _, r := range a.records {
		if r.Deleted || !isPart(r.Kind) {
			continue
		}
		p, err := ReadPart(r)
		if err != nil {
			damaged++
			continue
		}
		a.Rig.parts[p.ID] = p
	}
	a, leaks := a.readLeakTests()
	a, timers := a.readTimers()
	a, upkeep := a.readUpkeep()
	a, logs := a.readCylinderLog()
	a = a.damagedNotice(damaged + leaks + timers + upkeep + logs)
	a.Rig.Empty = len(a.Rig.parts) == 0
	a.Rig.Sample = false
	for _, p := range a.Rig.parts {
		a.Rig.Sample = a.Rig.Sample || p.Sample
	}
	a.Rig.Groups = a.groups()
	a.Rig.Needs, a.Rig.Stops = a.needs(), a.stops()
	a.Rig.Missing = texts(a.Rig.Needs)
	a.Rig.Unfinished = a.unfinished()
	return a.splitRecords().refreshForm().refreshBench().refreshLeak().readPacer().refreshDrills().recomputed().refreshOrders()
}

// part returns a part by id.
func (a App) part(id string) (Part, bool) {
	p, ok := a.Rig.parts[id]
	return p, ok
}

// parts returns the parts of a kind in the order they were made.
func (a App) parts(k Kind) []Part {
	var list []Part
	for _, p := range a.Rig.parts {
		if p.Kind == k {
			list = append(list, p)
		}
	}
	slices.SortFunc(list, func(p, q Part) int { return strings.Compare(p.ID, q.ID) })
	return list
}

// inUse returns the part in use of a kind and line: the one marked so, the newest mark if two devices marked different ones.
func (a App) inUse(k Kind, line string) (Part, bool) {
	var found Part
	for _, p := range a.parts(k) {
		if p.InUse && !p.Retired && p.Line() == line {
			found = newer(found, p)
		}
	}
	return found, found.ID != ""
}

// newer returns the part whose record was written later.
func newer(p, q Part) Part {
	if len(p.record.Heads) == 0 || len(q.record.Heads) > 0 && p.record.Heads[0].HLC.Compare(q.record.Heads[0].HLC) <= 0 {
		return q
	}
	return p
}

// fuelInUse is the JSON name of the fuel in the cylinder in use, "" when there is none.
func (a App) fuelInUse() string {
	if c, ok := a.inUse(KindCylinder, LineFuel); ok {
		return c.Choices["gas"]
	}
	return ""
}

// FuelInUse is the fuel in the cylinder in use, "" when there is none.
func (a App) FuelInUse() gas.Gas { return gas.Gas(a.fuelInUse()) }

// firstUse marks a new part as in use when it is the only one of its kind and line.
func (a App) firstUse(p Part) Part {
	if !kinds[p.Kind].sole {
		return p
	}
	_, taken := a.inUse(p.Kind, p.Line())
	p.InUse = !taken
	return p
}

// rows returns the chart rows of a tip.
func (a App) rows(tipID string) []Part {
	return slices.DeleteFunc(a.parts(KindChartRow), func(p Part) bool { return p.Choices["tip"] != tipID })
}

// stops lists parts in use that must not be used together, by the rule that refuses a card for them.
func (a App) stops() []string {
	hose, fuel := a.hoseSI(LineFuel), a.fuelInUse()
	if hose == nil || fuel == "" {
		return nil
	}
	refusal := setup.CheckHoseGrade(hose, gas.Gas(fuel))
	if refusal == nil {
		return nil
	}
	text := words.S("The fuel hose in use is of grade %s and the fuel in use is %s: %s (%s).", string(hose.Grade), gasName(fuel), refusal.Why, refusal.Source)
	for _, way := range refusal.WaysOut {
		text += words.S(" %s.", words.Capital(way))
	}
	return []string{text}
}

// versions lists what to choose from, of a part changed in two places.
func (a App) versions(p Part) []Version {
	if p.record.Conflict == storage.ConflictNone {
		return nil
	}
	var list []Version
	for i, h := range p.record.Heads {
		if h.Del {
			continue
		}
		one, err := ReadPart(storage.Record{ID: h.Rec, Kind: h.Kind, Schema: h.Schema, Body: h.Body})
		if err != nil {
			continue
		}
		list = append(list, Version{Op: string(h.ID), At: h.At, Lines: append([]string{a.partName(one)}, a.facts(one)...), Shown: i == 0, part: one})
	}
	return list
}
