package calctest

import (
	"fmt"
	"strings"
	"testing"
)

// spy is a testing.TB that records failures instead of failing, and stops like the real one.
type spy struct {
	testing.TB
	failures []string
}

func (s *spy) Helper()                   {}
func (s *spy) Log(...any)                {}
func (s *spy) Error(a ...any)            { s.failures = append(s.failures, fmt.Sprint(a...)) }
func (s *spy) Errorf(f string, a ...any) { s.failures = append(s.failures, fmt.Sprintf(f, a...)) }
func (s *spy) Fatalf(f string, a ...any) { s.Errorf(f, a...); panic(s) }
func (s *spy) Fatal(a ...any)            { s.Error(a...); panic(s) }

// failuresOf runs f and returns what it complained about.
func failuresOf(t *testing.T, f func(testing.TB)) (failures []string) {
	s := &spy{TB: t}
	defer func() {
		if r := recover(); r != nil && r != any(s) {
			panic(r)
		}
		failures = s.failures
	}()
	f(s)
	return s.failures
}

// Guards the checker itself: a comparison that cannot fail proves nothing.
func TestEveryCheckFailsWhenItMust(t *testing.T) {
	rows := Reference(t, "oxygen_density.csv")
	cases := map[string]func(testing.TB){
		"Near off":                  func(t testing.TB) { Near(t, 1.01, 1, 0.005, "test") },
		"Near not a number":         func(t testing.TB) { Near(t, nan(), 1, 0.005, "test") },
		"Near without a reason":     func(t testing.TB) { Near(t, 1, 1, 0.005, "") },
		"Near zero":                 func(t testing.TB) { Near(t, 0.1, 0, 0.005, "test") },
		"Worst off":                 func(t testing.TB) { NewWorst("x", 0.01, "test").Add(t, 1.02, 1, "case") },
		"Worst not a number":        func(t testing.TB) { NewWorst("x", 0.01, "test").Add(t, nan(), 1, "case") },
		"Worst of nothing":          func(t testing.TB) { NewWorst("x", 0.01, "test").Report(t) },
		"a missing file":            func(t testing.TB) { Reference(t, "no such table.csv") },
		"a missing column":          func(t testing.TB) { at(t, rows[0]).Number("no such column") },
		"a cell that is no number":  func(t testing.TB) { at(t, rows[0]).Number("source") },
		"a cell that is no boolean": func(t testing.TB) { at(t, rows[0]).Bool("source") },
		"a value no row has":        func(t testing.TB) { Where(t, rows, "case_id", "none") },
		"two columns of one name":   func(t testing.TB) { header(t, "x", []string{"a", "a"}) },
		"no vectors":                func(t testing.TB) { Vectors(t, "none") },
		"an unknown input": func(t testing.TB) {
			Vector{Inputs: []byte(`{"a":1,"b":2}`)}.Input(t, &struct{ A float64 }{})
		},
	}
	for name, check := range cases {
		t.Run(name, func(t *testing.T) {
			if len(failuresOf(t, check)) == 0 {
				t.Error("nothing failed")
			}
		})
	}
}

// at returns the row reporting to another test.
func at(t testing.TB, r Row) Row { r.t = t; return r }

// nan avoids a constant division by zero.
func nan() float64 { zero := 0.0; return zero / zero }

func TestNearPassesInsideTheTolerance(t *testing.T) {
	for _, c := range []struct{ got, want, tol float64 }{{1.004, 1, 0.005}, {-0.996, -1, 0.005}, {1e-4, 0, 1e-3}, {5, 5, 0}} {
		if f := failuresOf(t, func(t testing.TB) { Near(t, c.got, c.want, c.tol, "test") }); len(f) > 0 {
			t.Error(f)
		}
	}
}

func TestWorstKeepsTheLargestErrorAndItsCase(t *testing.T) {
	w := NewWorst("x", 0.1, "test")
	w.Add(t, 1.01, 1, "first")
	w.Add(t, 0.95, 1, "second")
	w.Add(t, 1.02, 1, "third")
	if want := "worst error of x: 5 % at second (3 cases, allowed 10 %)"; w.String() != want {
		t.Errorf("got %q, want %q", w, want)
	}
	if w.Count() != 3 || w.Off() > 0 {
		t.Errorf("count %d, off %g", w.Count(), w.Off())
	}
}

func TestReferenceReadsCellsByColumnName(t *testing.T) {
	rows := Reference(t, "oxygen_density.csv")
	if rows[0].ID() != "O2-0001" || rows[0].Number("pressure_abs_bar") != 1 || !rows[0].Has("source") {
		t.Errorf("%v read wrongly", rows[0])
	}
	if got := rows[0].String(); got != "oxygen_density.csv:2 (O2-0001)" {
		t.Error(got)
	}
}

func TestVectorsRefuseWhatTheyDoNotUnderstand(t *testing.T) {
	good := `{"source":"s","page":"1","inputs":{"a":1},"want":2,"tol":0.1,"why":"w"}`
	if _, err := decodeVector([]byte(good)); err != nil {
		t.Errorf("good vector: %v", err)
	}
	bad := map[string]string{
		"unknown field":     strings.Replace(good, `"page"`, `"pgae"`, 1),
		"no source":         strings.Replace(good, `"source":"s",`, ``, 1),
		"no reason":         strings.Replace(good, `"why":"w"`, `"why":""`, 1),
		"no tolerance":      strings.Replace(good, `"tol":0.1,`, ``, 1),
		"no inputs":         strings.Replace(good, `"inputs":{"a":1},`, ``, 1),
		"text after it":     good + "{}",
		"not JSON at all":   "abc",
		"number as a text":  strings.Replace(good, `"want":2`, `"want":"2"`, 1),
		"cut off at half":   good[:40],
		"a list of vectors": "[" + good + "]",
	}
	for name, text := range bad {
		if _, err := decodeVector([]byte(text)); err == nil {
			t.Errorf("%s was accepted", name)
		}
	}
}
