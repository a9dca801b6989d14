package calctest

import (
	"fmt"
	"math"
	"testing"
)

// Near fails the test unless got is within the relative tolerance tol of want; want = 0 makes tol absolute. why says where
// want comes from and why the tolerance is what it is; an empty why fails too.
func Near(t testing.TB, got, want, tol float64, why string) {
	t.Helper()
	if why == "" {
		t.Error("a tolerance needs a reason")
	}
	if off := math.Abs(Relative(got, want)); !(off <= tol) {
		t.Errorf("got %.8g, want %.8g ± %g: off by %g (%s)", got, want, tol, off, why)
	}
}

// Relative returns (got - want)/|want|, or got itself when want is 0.
func Relative(got, want float64) float64 {
	if want == 0 {
		return got
	}
	return (got - want) / math.Abs(want)
}

// Worst keeps the largest relative error of one result over a table.
type Worst struct {
	name  string
	tol   float64
	why   string
	count int
	off   float64
	where string
}

// NewWorst starts a record for the named result; tol is the largest relative error allowed and why its reason.
func NewWorst(name string, tol float64, why string) *Worst {
	return &Worst{name: name, tol: tol, why: why}
}

// Add compares one result and fails the test when it is off by more than allowed; where names the case.
func (w *Worst) Add(t testing.TB, got, want float64, where string) {
	t.Helper()
	off := Relative(got, want)
	if !(math.Abs(off) <= w.tol) {
		t.Errorf("%s at %s: got %.8g, want %.8g, off by %.3g, allowed %g (%s)", w.name, where, got, want, off, w.tol, w.why)
	}
	if w.count++; w.count == 1 || !(math.Abs(off) <= math.Abs(w.off)) {
		w.off, w.where = off, where
	}
}

// Count returns how many results were compared.
func (w *Worst) Count() int { return w.count }

// Off returns the worst relative error with its sign.
func (w *Worst) Off() float64 { return w.off }

// String says the worst error in a line: "worst error of oxygen density: 0.004 % at O2-0181 (239 cases, allowed 0.3 %)".
func (w *Worst) String() string {
	return fmt.Sprintf("worst error of %s: %.2g %% at %s (%d cases, allowed %g %%)",
		w.name, math.Abs(w.off)*100, w.where, w.count, w.tol*100)
}

// Report logs the worst error and prints it on standard output, so that every run shows it. No comparison at all fails the test.
func (w *Worst) Report(t testing.TB) {
	t.Helper()
	if w.count == 0 {
		t.Errorf("%s: nothing was compared", w.name)
		return
	}
	t.Log(w)
	fmt.Println(w)
}
