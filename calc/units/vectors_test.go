package units

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// loadVectors reads a file of testdata/vectors/units; a field that nobody checks fails, so that vectors cannot rot.
func loadVectors(t *testing.T, name string, into any) {
	t.Helper()
	file, err := os.Open("../../testdata/vectors/units/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	d := json.NewDecoder(file)
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
}

// mustUnit finds a unit that has to exist.
func mustUnit(t testing.TB, q Quantity, symbol string) Unit {
	t.Helper()
	u, ok := UnitBySymbol(q, symbol)
	if !ok {
		t.Fatalf("no unit %q of %v", symbol, q)
	}
	return u
}

// Each factor is checked against the published one, or one worked out by hand from those, seven digits. Degrees, which have an offset, are
// in TestConvert_known_points. There and back is the same with any factor: a unit that is not listed could be wrong and nothing would tell.
func TestUnits_agree_with_published_definitions(t *testing.T) {
	type factor struct {
		Quantity, Unit string
		SI             float64
	}
	var v struct {
		Source, Why string
		Tol         float64
		Rows        []factor
		MadeOf      string `json:"made_of"`
		Made        []factor
	}
	loadVectors(t, "definitions.json", &v)
	listed := map[Unit]bool{}
	for _, row := range slices.Concat(v.Rows, v.Made) {
		q, ok := quantityByKey(row.Quantity)
		if !ok {
			t.Fatalf("no quantity %q", row.Quantity)
		}
		u := mustUnit(t, q, row.Unit)
		listed[u] = true
		got, err := u.SI(1, 1)
		if err != nil || math.Abs(got/row.SI-1) > v.Tol {
			t.Errorf("1 %s = %v (%v), definitions.json says %v", row.Unit, got, err, row.SI)
		}
	}
	for _, q := range Quantities() {
		for i, d := range unitTable[q] {
			if u := (Unit{q, uint8(i)}); d.factor != 1 && d.offset == 0 && !listed[u] && !listed[lengthOf(u)] {
				t.Errorf("%v: nothing but the table says what %q is: add its factor to testdata/vectors/units/definitions.json", q, d.symbol)
			}
		}
	}
}

// lengthOf is the unit of length that is the same under another name.
func lengthOf(u Unit) Unit {
	if u.quantity.isLength() {
		u.quantity = QuantityLength
	}
	return u
}

// The unit rows of the reference table of flow constants, at the digits printed there.
func TestUnits_agree_with_the_reference_table(t *testing.T) {
	file, err := os.Open("../../testdata/reference/flow_constants.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	ours := map[string]func() (float64, error){
		"1 ft3/h": func() (float64, error) {
			return Convert(1, mustUnit(t, QuantityStandardFlow, "ft3/h"), mustUnit(t, QuantityStandardFlow, "L/min"), 1)
		},
		"1 psi": func() (float64, error) {
			return Convert(1, mustUnit(t, QuantityPressure, "psi"), mustUnit(t, QuantityPressure, "kPa"), 0)
		},
		"1 atm": func() (float64, error) {
			return mustUnit(t, QuantityPressure, "psi").FromSI(float64(StandardAtmosphere), 0)
		},
		"1 Btu": func() (float64, error) {
			perHour, err := mustUnit(t, QuantityPower, "Btu/h").SI(1, 0)
			return perHour * Hour, err
		},
		"1 lb": func() (float64, error) { return mustUnit(t, QuantityMass, "lb").SI(1, 0) },
	}
	for _, row := range rows {
		if row[0] != "unit" {
			continue
		}
		f := ours[row[1]]
		if f == nil {
			t.Errorf("nothing of ours for %s", row[1])
			continue
		}
		delete(ours, row[1])
		got, err := f()
		if err != nil || !agreesWithPrinted(got, row[2]) {
			t.Errorf("%s = %v %s (%v), the table says %s", row[1], got, row[3], err, row[2])
		}
	}
	if len(ours) != 0 {
		t.Errorf("not in the table: %v", ours)
	}
}

// agreesWithPrinted reports whether got rounds to the printed digits.
func agreesWithPrinted(got float64, printed string) bool {
	want, err := strconv.ParseFloat(printed, 64)
	_, decimals, _ := strings.Cut(printed, ".")
	return err == nil && math.Abs(got-want) <= 0.5000001*math.Pow(10, -float64(len(decimals)))
}

// Every gauge of every table against a printed table, and every printed thickness read back as typed text.
func TestSheetTable_agrees_with_published_tables(t *testing.T) {
	var v struct {
		Tables []struct {
			Table, Source, Page, Why string
			Tol                      float64
			Rows                     []struct {
				Gauge int
				Inch  float64
			}
		}
	}
	loadVectors(t, "sheet_gauges.json", &v)
	tables := map[string]SheetTable{"steel": SteelSheet, "non_ferrous": NonFerrousSheet, "galvanised": GalvanisedSheet, "stainless": StainlessSheet}
	for _, table := range v.Tables {
		f := Field{Name: "Thickness", Quantity: QuantityThickness, Sheet: tables[table.Table]}
		for _, row := range table.Rows {
			p, err := f.Parse(strconv.Itoa(row.Gauge) + " ga")
			if err != nil || math.Abs(p.SI/Inch-row.Inch) > table.Tol {
				t.Errorf("%s %d ga = %v in (%v), %s says %v", table.Table, row.Gauge, p.SI/Inch, err, table.Source, row.Inch)
			}
		}
		delete(tables, table.Table)
	}
	if len(tables) != 0 {
		t.Errorf("not checked: %v", tables)
	}
}

// Every numbered and letter drill against printed charts, through the parser.
func TestDrills_agree_with_published_charts(t *testing.T) {
	var v struct {
		Source, Page, Why string
		Tol               float64
		Rows              []struct {
			Typed string
			Inch  float64
		}
	}
	loadVectors(t, "drills.json", &v)
	f := Field{Name: "Orifice", Quantity: QuantityBore}
	for _, row := range v.Rows {
		p, err := f.Parse(row.Typed)
		if err != nil || math.Abs(p.SI/Inch-row.Inch) > v.Tol {
			t.Errorf("%s = %v in (%v), the charts say %v", row.Typed, p.SI/Inch, err, row.Inch)
		}
	}
	if want := len(numberDrills) + len(letterDrills); len(v.Rows) != want {
		t.Errorf("%d of %d drills checked", len(v.Rows), want)
	}
}

// A higher number is always a smaller size, in every table; and a numbered drill is found again from its diameter.
func TestSizes_fall_with_their_number(t *testing.T) {
	for n := 1; n <= 80; n++ {
		d, ok := NumberDrill(n)
		smaller, next := NumberDrill(n + 1)
		if !ok || next != (n < 80) || (next && smaller >= d) {
			t.Errorf("#%d is %v, #%d is %v", n, d, n+1, smaller)
		}
		if name, ok := DrillName(d); !ok || name != "#"+strconv.Itoa(n) {
			t.Errorf("#%d is found as %s", n, name)
		}
	}
	for table := SteelSheet; table <= StainlessSheet; table++ {
		low, high := table.Numbers()
		for n := low; n < high; n++ {
			a, ok := table.Thickness(n)
			b, next := table.Thickness(n + 1)
			if !ok || !next || b >= a {
				t.Errorf("%v: %d ga is %v, %d ga is %v", table, n, a, n+1, b)
			}
		}
		if _, ok := table.Thickness(low - 1); ok || table.Source() == "" {
			t.Errorf("%v has a gauge below %d or no source", table, low)
		}
		if _, ok := table.Thickness(high + 1); ok {
			t.Errorf("%v has a gauge above %d", table, high)
		}
	}
}

// A text of no table names nothing.
func TestSheetTable_none_has_no_gauges(t *testing.T) {
	for _, table := range []SheetTable{NoSheet, 99} {
		if d, ok := table.Thickness(16); ok || d != 0 || table.String() != "no sheet gauge" || table.Source() != "" {
			t.Errorf("table %d answers %v", uint8(table), d)
		}
	}
	if _, ok := LetterDrill('1'); ok {
		t.Error("1 is taken for a letter drill")
	}
}
