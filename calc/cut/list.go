package cut

import (
	"math"

	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
)

// Piece is a row of a cut list: a number of equal cuts.
type Piece struct {
	Thickness units.Length
	Orifice   units.Length // 0: chosen
	Length    units.Length // of the cut of one piece
	Count     int
	// FuelKept is what must be left of List.Fuel while these pieces are cut, because less may not be drawn from so fast.
	FuelKept units.StandardVolume
}

// List is what is to be cut in the order of its rows, and what there is to cut it with.
type List struct {
	Common Input // all but thickness, orifice and length, which the pieces give
	Pieces []Piece
	// Oxygen and Fuel are what the cylinders can still give; nil when that is not known.
	Oxygen, Fuel *units.StandardVolume
	// OxygenLeast and FuelLeast are the low ends of that, for ListResult.Worst; nil takes Oxygen and Fuel.
	OxygenLeast, FuelLeast *units.StandardVolume
	// OxygenPrice and FuelPrice are in the owner's currency; nil when not known.
	OxygenPrice, FuelPrice *units.MoneyPerVolume
}

// Limits of a list, inclusive.
const (
	MostRows   = 200
	MostPieces = 10000
)

// Cylinder names a gas that runs out.
type Cylinder string

// The two cylinders.
const (
	OxygenCylinder Cylinder = "oxygen"
	FuelCylinder   Cylinder = "fuel"
)

// Shortage is the moment a cut list outlasts a cylinder.
type Shortage struct {
	First Cylinder // that runs out first
	// Done pieces of the list are cut by then; Row counts from 1 and is the row of the piece that stops, of which Share is cut.
	Done, Row int
	Share     float64
	// Oxygen and Fuel are what the list needs more than there is, 0 when that gas is enough.
	Oxygen, Fuel units.StandardVolume
}

// ListResult is a cut list worked out.
type ListResult struct {
	Rows         []Result // of one piece each
	Pieces       int
	Time         units.Band // s, cutting alone
	Start        units.Band // s, of all starts
	Oxygen, Fuel units.Band // m³, standard
	Cost         *float64   // of both gases in the owner's currency; nil unless both prices are known
	Shortage     *Shortage  // with the middle of the bands; nil when the gas lasts, or is not known
	// Worst is the same with the high ends: what it says is done is done even by a slow hand.
	Worst *Shortage
}

// RowError says in which row of a list, counted from 1, something is wrong.
type RowError struct {
	Row int
	Err error
}

// Error returns one readable line.
func (e *RowError) Error() string { return words.F("row %d: %v", e.Row, e.Err) }

// Unwrap returns what is wrong.
func (e *RowError) Unwrap() error { return e.Err }

const (
	whyCount = "a row has at least one piece; split a longer list"
	whyStock = "what is left in the cylinder, at 15 °C and 101.325 kPa"
	whyPrice = "a price is zero or more"
)

// Compute works out the list. Every piece has a start of its own.
//
// Errors are those of the function Compute in a *RowError, and *gas.RangeError for what is asked of the whole list.
func (l List) Compute() (ListResult, error) {
	if err := l.check(); err != nil {
		return ListResult{}, err
	}
	var rows []Result
	for i, p := range l.Pieces {
		in := l.Common
		in.Thickness, in.Orifice, in.Length = p.Thickness, p.Orifice, p.Length
		r, err := Compute(in)
		if err != nil {
			return ListResult{}, &RowError{i + 1, err}
		}
		rows = append(rows, r)
	}
	return l.sum(rows), nil
}

// Sum adds up a list whose rows were worked out elsewhere, one Result of one piece for each of Pieces; their sizes are not looked at.
//
// Errors are those of Compute for the whole list; *gas.RangeError when there are not as many rows as pieces.
func (l List) Sum(rows []Result) (ListResult, error) {
	if err := l.check(); err != nil {
		return ListResult{}, err
	}
	if n := float64(len(l.Pieces)); len(rows) != len(l.Pieces) {
		return ListResult{}, gas.InRange("rows", float64(len(rows)), n, n, "", "a row for each of the pieces")
	}
	return l.sum(rows), nil
}

func (l List) sum(rows []Result) ListResult {
	all := ListResult{Rows: rows}
	for i, p := range l.Pieces {
		r := rows[i]
		all.Pieces += p.Count
		all.Time, all.Start = plus(all.Time, r.Time, p.Count), plus(all.Start, r.Start, p.Count)
		all.Oxygen, all.Fuel = plus(all.Oxygen, r.Oxygen, p.Count), plus(all.Fuel, r.Fuel, p.Count)
	}
	if l.OxygenPrice != nil && l.FuelPrice != nil {
		cost := all.Oxygen.Value*float64(*l.OxygenPrice) + all.Fuel.Value*float64(*l.FuelPrice)
		all.Cost = &cost
	}
	all.Shortage = l.shortage(rows, func(b units.Band) float64 { return b.Value }, left(l.Oxygen), left(l.Fuel))
	all.Worst = l.shortage(rows, func(b units.Band) float64 { return b.High }, least(l.Oxygen, l.OxygenLeast), least(l.Fuel, l.FuelLeast))
	return all
}

func plus(sum, b units.Band, count int) units.Band {
	n := float64(count)
	return units.Band{Value: sum.Value + n*b.Value, Low: sum.Low + n*b.Low, High: sum.High + n*b.High, Reason: b.Reason}
}

func (l List) check() error {
	if err := gas.InRange("rows", float64(len(l.Pieces)), 1, MostRows, "", whyCount); err != nil {
		return err
	}
	for i, p := range l.Pieces {
		if err := gas.InRange("count", float64(p.Count), 1, MostPieces, "", whyCount); err != nil {
			return &RowError{i + 1, err}
		}
	}
	for _, v := range []struct {
		field string
		given *units.StandardVolume
	}{{"oxygen_available_std_m3", l.Oxygen}, {"fuel_available_std_m3", l.Fuel}, {"oxygen_available_std_m3", l.OxygenLeast}, {"fuel_available_std_m3", l.FuelLeast}} {
		if v.given != nil {
			if err := gas.InRange(v.field, float64(*v.given), 0, 1e4, "cubic metres", whyStock); err != nil {
				return err
			}
		}
	}
	for _, v := range []struct {
		field string
		given *units.MoneyPerVolume
	}{{"oxygen_price_per_std_m3", l.OxygenPrice}, {"fuel_price_per_std_m3", l.FuelPrice}} {
		if v.given != nil {
			if err := gas.InRange(v.field, float64(*v.given), 0, 1e9, "", whyPrice); err != nil {
				return err
			}
		}
	}
	return nil
}

// left is what there is, without end when it is not known.
func left(v *units.StandardVolume) float64 {
	if v == nil {
		return math.Inf(1)
	}
	return float64(*v)
}

func least(v, low *units.StandardVolume) float64 { return min(left(v), left(low)) }

// slack lets a list that needs just what there is be done, but for rounding.
const slack = 1e-12

// shortage cuts the list piece by piece until a gas ends.
func (l List) shortage(rows []Result, end func(units.Band) float64, oxygen, fuel float64) *Shortage {
	var s *Shortage
	done, fuelShort := 0, 0.0
	for i, r := range rows {
		o, f, n := end(r.Oxygen), end(r.Fuel), l.Pieces[i].Count
		// share of a piece that each gas still allows, and whole pieces by the scarcer
		byOxygen, byFuel := oxygen/o, (fuel-float64(l.Pieces[i].FuelKept))/f
		if can := min(byOxygen, byFuel); s == nil && can < float64(n)*(1-slack) {
			s = &Shortage{First: OxygenCylinder, Row: i + 1}
			if byFuel < byOxygen {
				s.First = FuelCylinder
			}
			can = max(0, can)
			whole := math.Floor(can*(1+slack) + slack)
			s.Done, s.Share = done+int(whole), max(0, can-whole)
		}
		done += n
		oxygen, fuel = oxygen-float64(n)*o, fuel-float64(n)*f
		fuelShort = max(fuelShort, float64(l.Pieces[i].FuelKept)-fuel)
	}
	if s != nil {
		s.Oxygen, s.Fuel = units.StandardVolume(max(0, -oxygen)), units.StandardVolume(max(fuelShort, -fuel))
	}
	return s
}
