package main

import (
	"errors"
	"fmt"

	"torchside/calc/cut"
	"torchside/calc/gas"
	"torchside/calc/units"
)

type cutPiece struct {
	ThicknessM       float64  `json:"thickness_m"`
	OrificeDiameterM *float64 `json:"orifice_diameter_m,omitempty"`
	LengthM          float64  `json:"length_m"`
	Count            int      `json:"count"`
}

type cutListQuestion struct {
	Pieces               []cutPiece `json:"pieces"`
	OxygenAvailableStdM3 *float64   `json:"oxygen_available_std_m3,omitempty"`
	FuelAvailableStdM3   *float64   `json:"fuel_available_std_m3,omitempty"`
	OxygenPricePerStdM3  *float64   `json:"oxygen_price_per_std_m3,omitempty"`
	FuelPricePerStdM3    *float64   `json:"fuel_price_per_std_m3,omitempty"`
	OxygenPurity         float64    `json:"oxygen_purity,omitempty"`
	Metal                cut.Metal  `json:"metal,omitempty"`
	Painted              bool       `json:"painted,omitempty"`
	Fuel                 gas.Gas    `json:"fuel,omitempty"`
	Start                cut.Start  `json:"start,omitempty"`
	TemperatureK         float64    `json:"temperature_k,omitempty"`
	AmbientAbsPa         float64    `json:"ambient_abs_pa,omitempty"`
}

// cutListDefaults are the fields of a question that may be missing.
var cutListDefaults = cutListQuestion{OxygenPurity: cut.UsualPurity, Metal: cut.MildSteel, Fuel: gas.Acetylene, Start: cut.Edge,
	TemperatureK: roomTemperature, AmbientAbsPa: float64(units.StandardAtmosphere)}

// cutListRow is one piece of a row.
type cutListRow struct {
	OrificeDiameterM     float64    `json:"orifice_diameter_m"`
	CuttingOxygenGaugePa float64    `json:"cutting_oxygen_gauge_pa"`
	SpeedMS              units.Band `json:"speed_m_s"`
	StartTimeS           units.Band `json:"start_time_s"`
	TimeS                units.Band `json:"time_s"`
	OxygenStdM3          units.Band `json:"oxygen_std_m3"`
	FuelStdM3            units.Band `json:"fuel_std_m3"`
	Notes                []noteOut  `json:"notes"`
}

type cutShortage struct {
	First              cut.Cylinder `json:"first"`
	PiecesDone         int          `json:"pieces_done"`
	Row                int          `json:"row"`
	ShareOfNext        float64      `json:"share_of_next"`
	OxygenMissingStdM3 float64      `json:"oxygen_missing_std_m3"`
	FuelMissingStdM3   float64      `json:"fuel_missing_std_m3"`
}

type cutListAnswer struct {
	Rows          []cutListRow `json:"rows"`
	Pieces        int          `json:"pieces"`
	StartTimeS    units.Band   `json:"start_time_s"`
	TimeS         units.Band   `json:"time_s"`
	OxygenStdM3   units.Band   `json:"oxygen_std_m3"`
	FuelStdM3     units.Band   `json:"fuel_std_m3"`
	Cost          *float64     `json:"cost"`
	Shortage      *cutShortage `json:"shortage"`
	WorstShortage *cutShortage `json:"worst_shortage"`
}

func (q cutListQuestion) list() (cut.List, error) {
	common, err := cutCommon{q.Metal, q.Painted, q.Fuel, q.Start, q.TemperatureK, q.AmbientAbsPa}.input(q.OxygenPurity)
	l := cut.List{Common: common, Oxygen: optional[units.StandardVolume](q.OxygenAvailableStdM3), Fuel: optional[units.StandardVolume](q.FuelAvailableStdM3),
		OxygenPrice: optional[units.MoneyPerVolume](q.OxygenPricePerStdM3), FuelPrice: optional[units.MoneyPerVolume](q.FuelPricePerStdM3)}
	for _, p := range q.Pieces {
		orifice, orificeErr := givenOrifice(p.OrificeDiameterM)
		if err == nil {
			err = orificeErr
		}
		l.Pieces = append(l.Pieces, cut.Piece{Thickness: units.Length(p.ThicknessM), Orifice: orifice, Length: units.Length(p.LengthM), Count: p.Count})
	}
	return l, err
}

// optional gives a number that may be missing its quantity.
func optional[T ~float64](v *float64) *T {
	if v == nil {
		return nil
	}
	t := T(*v)
	return &t
}

func answerCutList(q cutListQuestion) (any, error) {
	l, err := q.list()
	if err != nil {
		return nil, err
	}
	r, err := l.Compute()
	if err != nil {
		return nil, rowError(err)
	}
	a := cutListAnswer{Rows: []cutListRow{}, Pieces: r.Pieces, StartTimeS: r.Start, TimeS: r.Time, OxygenStdM3: r.Oxygen, FuelStdM3: r.Fuel,
		Cost: r.Cost, Shortage: shortageOut(r.Shortage), WorstShortage: shortageOut(r.Worst)}
	for _, row := range r.Rows {
		a.Rows = append(a.Rows, cutListRow{float64(row.Orifice), float64(row.Gauge), row.Speed, row.Start, row.Time, row.Oxygen, row.Fuel, notesOfCut(row.Notes)})
	}
	return a, nil
}

// rowError names the row of an error as the other errors about lists do, counted from 0.
func rowError(err error) error {
	var row *cut.RowError
	if !errors.As(err, &row) {
		return cutError(err)
	}
	place := fmt.Sprintf("pieces[%d].", row.Row-1)
	var outside *gas.RangeError
	if errors.As(row.Err, &outside) {
		named := *outside
		named.Field = place + outside.Field
		return &named
	}
	return cutError(row.Err) // a word, which all rows share
}

func shortageOut(s *cut.Shortage) *cutShortage {
	if s == nil {
		return nil
	}
	return &cutShortage{s.First, s.Done, s.Row, s.Share, float64(s.Oxygen), float64(s.Fuel)}
}

const helpCutList = `cut-list: time, gas and cost of many cuts, and after which piece a cylinder is empty

in   pieces [ {thickness_m, orifice_diameter_m, length_m, count} ]  cut in this order, each with a start of its own; orifice_diameter_m
       is optional and chosen when missing; count is needed
     oxygen_available_std_m3, fuel_available_std_m3  optional: what the cylinders can still give
     oxygen_price_per_std_m3, fuel_price_per_std_m3  optional
     oxygen_purity, metal, painted, fuel, start, temperature_k, ambient_abs_pa  optional, as in cut
out  rows [ {orifice_diameter_m, cutting_oxygen_gauge_pa, speed_m_s, start_time_s, time_s, oxygen_std_m3, fuel_std_m3, notes} ]  of one piece
       of each row, bands {value, low, high, reason}; notes [ {code, text, source} ], warnings first
     pieces  how many
     start_time_s, time_s, oxygen_std_m3, fuel_std_m3  bands for the whole list; time_s is cutting alone
     cost    of both gases; null unless both prices are given
     shortage {first, pieces_done, row, share_of_next, oxygen_missing_std_m3, fuel_missing_std_m3}  first is the gas that ends first,
       oxygen or fuel, after pieces_done pieces, in a piece of row (counted from 1) of which share_of_next is cut; null when the gas
       lasts or is not known
     worst_shortage  the same with the high ends: pieces_done is sure even with a slow hand

A rounded example: {"pieces":[{"thickness_m":0.01,"length_m":0.5,"count":3}],"oxygen_available_std_m3":0.1,"fuel_available_std_m3":1}
`
