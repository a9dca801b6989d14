package units

import "math"

// SheetTable names the table a sheet gauge number is looked up in; the same number is a different thickness in each.
type SheetTable uint8

// The tables. The zero SheetTable is none: a gauge number is then refused, because it means nothing without its metal.
const (
	NoSheet SheetTable = iota
	// SteelSheet is the Manufacturers' Standard Gauge for uncoated steel sheet.
	SteelSheet
	// NonFerrousSheet is the Brown & Sharpe gauge of aluminium, copper and brass, the same as the American Wire Gauge.
	NonFerrousSheet
	// GalvanisedSheet is the galvanised sheet gauge; the coating is part of the thickness.
	GalvanisedSheet
	// StainlessSheet is the US Standard Gauge as used for stainless steel.
	StainlessSheet
)

// usStandardOunces is the weight in oz/ft² of the US Standard Gauge, from number 3 on. Source: 15 U.S.C. 206, which also
// gives the thickness of wrought iron of that weight as 1/640 in per oz/ft².
var usStandardOunces = [...]float64{
	160, 150, 140, 130, 120, 110, 100, 90, 80, 70, // 3 to 12
	60, 50, 45, 40, 36, 32, 28, 24, 22, 20, // 13 to 22
	18, 16, 14, 12, 11, 10, 9, 8, 7, 6.5, // 23 to 32
}

const (
	firstOunces     = 3            // the gauge number of usStandardOunces[0]
	wroughtIron     = 640          // oz/ft² per inch (15 U.S.C. 206)
	sheetSteel      = 41.820 * 16  // oz/ft² per inch, by which steel sheet weights become thicknesses (Manufacturers' Standard)
	galvanisedExtra = 2.5          // oz/ft² of coating on both sides (galvanised sheet gauge)
	tenthOfMil      = 1e-4 * Inch  // m: the tables are published to 0.0001 in
	brownSharpe36   = 0.005 * Inch // m: gauge 36 (ASTM B258)
	brownSharpeStep = 92.0         // diameter of gauge 0000 over gauge 36, 39 steps (ASTM B258)
)

// sheetInfo describes a table for a person and gives the numbers it covers. Galvanised 32 is left out: it is printed as
// 0.0134 in where the weights give 0.01345.
var sheetInfo = [...]struct {
	name, source string
	low, high    int
}{
	SteelSheet: {"Manufacturers' Standard, steel",
		"weights of 15 U.S.C. 206 at 41.820 lb/ft² per inch, to 0.0001 in", 3, 32},
	NonFerrousSheet: {"Brown & Sharpe, aluminium, copper and brass",
		"ASTM B258: 0.005 in × 92^((36 − n)/39), to 0.0001 in", 0, 36},
	GalvanisedSheet: {"galvanised sheet, coating included",
		"weights of 15 U.S.C. 206 plus 2.5 oz/ft² of zinc at 41.820 lb/ft² per inch, to 0.0001 in", 8, 31},
	StainlessSheet: {"US Standard, stainless",
		"thicknesses of 15 U.S.C. 206", 3, 32},
}

// String names the table for a person.
func (t SheetTable) String() string {
	if !t.known() {
		return "no sheet gauge"
	}
	return sheetInfo[t].name
}

// Source says where the table's thicknesses come from; empty for NoSheet.
func (t SheetTable) Source() string {
	if !t.known() {
		return ""
	}
	return sheetInfo[t].source
}

// Numbers returns the lowest (thickest) and highest gauge number of the table; zeros for NoSheet.
func (t SheetTable) Numbers() (low, high int) {
	if !t.known() {
		return 0, 0
	}
	return sheetInfo[t].low, sheetInfo[t].high
}

// Thickness returns the nominal thickness of a gauge number; ok is false when the table has no such number.
func (t SheetTable) Thickness(number int) (thickness Length, ok bool) {
	low, high := t.Numbers()
	if !t.known() || number < low || number > high {
		return 0, false
	}
	switch t {
	case SteelSheet:
		return asPublished(Inch * usStandardOunces[number-firstOunces] / sheetSteel), true
	case GalvanisedSheet:
		return asPublished(Inch * (usStandardOunces[number-firstOunces] + galvanisedExtra) / sheetSteel), true
	case StainlessSheet:
		return Length(Inch * usStandardOunces[number-firstOunces] / wroughtIron), true
	}
	return asPublished(brownSharpe36 * math.Pow(brownSharpeStep, float64(36-number)/39)), true
}

func (t SheetTable) known() bool { return t > NoSheet && int(t) < len(sheetInfo) }

// asPublished rounds to the last digit the tables print, so that our thickness is the one in the book.
func asPublished(m float64) Length { return Length(math.Round(m/tenthOfMil) * tenthOfMil) }
