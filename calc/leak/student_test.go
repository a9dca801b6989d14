package leak

import (
	"math"
	"testing"
)

// coverage integrates the density of Student's distribution between -t and t by Simpson's rule.
func coverage(t, freedom float64) float64 {
	a, _ := math.Lgamma((freedom + 1) / 2)
	b, _ := math.Lgamma(freedom / 2)
	scale := math.Exp(a-b) / math.Sqrt(freedom*math.Pi)
	density := func(x float64) float64 { return scale * math.Pow(1+x*x/freedom, -(freedom+1)/2) }
	const n = 20000
	h := t / n
	sum := density(0) + density(t)
	for i := 1; i < n; i++ {
		sum += density(float64(i)*h) * float64(2+2*(i%2))
	}
	return 2 * sum * h / 3
}

// Every figure of the table, typed from memory, covers 95 % of its distribution to the digits given.
func TestStudentsTableCoversNinetyFivePercent(t *testing.T) {
	for i, v := range studentTable {
		freedom := float64(i + 1)
		if low, high := coverage(v-0.0006, freedom), coverage(v+0.0006, freedom); low > 0.95 || high < 0.95 {
			t.Errorf("%v degrees of freedom: %v covers %v", freedom, v, coverage(v, freedom))
		}
	}
	if student(1000) != studentTable[len(studentTable)-1] {
		t.Error("beyond the table the last figure holds")
	}
}
