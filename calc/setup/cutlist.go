package setup

import (
	"errors"
	"strconv"

	"torchside/calc/cut"
	"torchside/calc/units"
	"torchside/calc/words"
)

// CutRow is a row of a cut list: a number of equal cuts.
type CutRow struct {
	ThicknessM float64
	LengthM    float64 // of the cut of one piece
	Count      int
}

// CutList is a cut list worked out on one rig by hand: every row with the tip, the pressures and the hose of its own card.
type CutList struct {
	Cards []Card // one for each row
	// Result adds the rows up; its times are those of a hand. Shortage and Worst are nil when the gas lasts, or is not known.
	Result cut.ListResult
	// OxygenKnown and FuelKnown tell whether the contents of the cylinders are known.
	OxygenKnown, FuelKnown bool
	// FuelEnds is what ends the fuel when it runs out first: the reserve, or the rule on how fast acetylene may be drawn.
	FuelEnds Ending
}

// CutRowError is the refusal of one row, counted from 1.
type CutRowError struct {
	Row     int
	Refusal *Refusal
}

// Error gives row and refusal as one readable line.
func (e *CutRowError) Error() string {
	return words.S("row %s: %s", strconv.Itoa(e.Row), e.Refusal.Error())
}

// Unwrap returns the refusal.
func (e *CutRowError) Unwrap() error { return e.Refusal }

// CutList works out a cut list; thickness and tip of the question are not looked at, its work is taken as cut. What the cylinders
// hold counts down to their reserves, and of acetylene down to what may still be drawn from at the flow of a row.
//
// Errors: *CutRowError for a row without a card, or with a length or a number of pieces out of its limits; *Refusal for the list.
func (in Input) CutList(rows []CutRow) (CutList, error) {
	in.Work, in.Joint, in.TipLabel = Cut, "", ""
	var out CutList
	list := cut.List{}
	var results []cut.Result
	for i, row := range rows {
		card, no := in.cutRow(row)
		if no != nil {
			return CutList{}, &CutRowError{i + 1, no}
		}
		r := card.Cutting.result
		r.Speed = r.Hand
		results = append(results, r.For(units.Length(row.LengthM)))
		out.Cards = append(out.Cards, card)
		list.Pieces = append(list.Pieces, cut.Piece{Thickness: units.Length(row.ThicknessM), Length: units.Length(row.LengthM), Count: row.Count})
	}
	if len(rows) == 0 {
		return CutList{}, &Refusal{Code: "empty_list", Field: "rows", Read: "no row", Allowed: words.S("1 to %s", strconv.Itoa(cut.MostRows)), Why: "there is nothing to cut"}
	}
	return out.add(in, list, results)
}

// cutRow is the card of one row, or why there is none.
func (in Input) cutRow(row CutRow) (Card, *Refusal) {
	pieces := limit{1, cut.MostPieces, "a row has at least one piece; split a longer list"}
	length := limit{0.001, 1000, "a cut has a length"}
	if no := first(pieces.refuse("count", float64(row.Count), number), length.refuse("length_m", row.LengthM, metreText)); no != nil {
		return Card{}, no
	}
	in.ThicknessM = row.ThicknessM
	card, err := Compute(in)
	var no *Refusal
	if errors.As(err, &no) {
		return Card{}, no
	}
	return card, nil
}

// add sets the rows against what the cylinders hold.
func (out CutList) add(in Input, list cut.List, results []cut.Result) (CutList, error) {
	s, no := findStocks(in)
	if no != nil {
		return CutList{}, no
	}
	out.FuelEnds = AtReserve
	list.Oxygen, list.OxygenLeast = s.oxygen.volumes()
	list.Fuel, list.FuelLeast = s.fuel.volumes()
	out.OxygenKnown, out.FuelKnown = list.Oxygen != nil, list.Fuel != nil
	for i := range list.Pieces {
		list.Pieces[i].FuelKept = s.fuel.kept(out.Cards[i].Fuel.FlowStdM3S)
	}
	if o, f := in.Rig.OxygenCylinder, in.Rig.FuelCylinder; o != nil && o.PricePerStdM3 > 0 && f.PricePerStdM3 > 0 {
		oxygen, fuel := units.MoneyPerVolume(o.PricePerStdM3), units.MoneyPerVolume(f.PricePerStdM3)
		list.OxygenPrice, list.FuelPrice = &oxygen, &fuel
	}
	var err error
	if out.Result, err = list.Sum(results); err != nil {
		return CutList{}, refusalOf("rows", err)
	}
	if short := out.Result.Shortage; short != nil && list.Pieces[short.Row-1].FuelKept > 0 {
		out.FuelEnds = AtWithdrawal
	}
	return out, nil
}

// volumes are what can be drawn, middle and low end of the band; nil when not known.
func (s stock) volumes() (middle, least *units.StandardVolume) {
	if s.drawable == nil {
		return nil, nil
	}
	m, l := units.StandardVolume(s.drawable.value), units.StandardVolume(max(0, s.drawable.prov.Low))
	return &m, &l
}

// kept is what must be left above the reserve for a flow to be within what acetylene may be drawn at, in turns.
func (s stock) kept(flow float64) units.StandardVolume {
	if s.drawn == nil || s.drawable == nil {
		return 0
	}
	reserve := s.drawn.held.value - s.drawable.value
	return units.StandardVolume(max(0, flow*s.drawn.secondsOfContents(s.drawn.rule.Intermittent)-reserve))
}
