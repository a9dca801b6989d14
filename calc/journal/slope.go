package journal

import (
	"cmp"
	"math"
	"slices"
)

// Limits of a trend, our own choice.
const (
	// MinTrend is the fewest points a trend is given for. The interval below rests on Kendall's S being nearly normal, which
	// textbooks ask about ten points for (from memory); eight keep a month of practice from saying nothing.
	MinTrend = 8
	// MaxTrend is the most points looked at, the newest: work grows with the square.
	MaxTrend = 300
	// Confidence of the interval of a slope.
	Confidence = 0.95
	// normal975 is the 97.5 % point of the normal distribution (any table of it).
	normal975 = 1.959963984540054
)

// XY is one point of a trend.
type XY struct{ X, Y float64 }

// Slope is a robust straight line: the Theil–Sen slope, the median of the slopes between all pairs of points, with the interval of Sen
// (P. K. Sen, "Estimates of the Regression Coefficient Based on Kendall's Tau", J. Am. Stat. Assoc. 63, 1968).
type Slope struct {
	Value, Low, High float64
	Intercept        float64 // median of y less slope times median of x
	N                int     // points
	Pairs            int     // slopes they gave
}

// TheilSen fits points; z is the two-sided point of the normal distribution for the interval (1.96 for 95 %). ok is false when
// there are no two points of different x. Ties in x and y narrow the variance of S as in Sen's section 4.
func TheilSen(points []XY, z float64) (s Slope, ok bool) {
	slopes := pairSlopes(points)
	if len(slopes) == 0 {
		return Slope{}, false
	}
	slices.Sort(slopes)
	s = Slope{Value: median(slopes), N: len(points), Pairs: len(slopes)}
	xs, ys := axis(points, func(p XY) float64 { return p.X }), axis(points, func(p XY) float64 { return p.Y })
	s.Intercept = median(ys) - s.Value*median(xs)

	n := float64(len(points))
	variance := (n*(n-1)*(2*n+5) - tieTerm(xs) - tieTerm(ys)) / 18
	half := z * math.Sqrt(max(variance, 0))
	pairs := float64(len(slopes))
	// Half-way cases go to the even number, as reference implementations round.
	low := int(math.RoundToEven((pairs - half) / 2))
	high := int(math.RoundToEven((pairs + half) / 2))
	s.Low = slopes[max(low-1, 0)]
	s.High = slopes[min(high, len(slopes)-1)]
	return s, true
}

func pairSlopes(points []XY) []float64 {
	var slopes []float64
	for i, p := range points {
		for _, q := range points[:i] {
			if p.X != q.X {
				slopes = append(slopes, (p.Y-q.Y)/(p.X-q.X))
			}
		}
	}
	return slopes
}

func axis(points []XY, of func(XY) float64) []float64 {
	list := make([]float64, len(points))
	for i, p := range points {
		list[i] = of(p)
	}
	slices.Sort(list)
	return list
}

// tieTerm is the sum of t(t−1)(2t+5) over runs of t equal values.
func tieTerm(sorted []float64) float64 {
	sum := 0.0
	for i := 0; i < len(sorted); {
		j := i
		for j < len(sorted) && sorted[j] == sorted[i] {
			j++
		}
		t := float64(j - i)
		sum += t * (t - 1) * (2*t + 5)
		i = j
	}
	return sum
}

// newest keeps the points with the highest x, at most n.
func newest(points []XY, n int) []XY {
	slices.SortStableFunc(points, func(a, b XY) int { return cmp.Compare(a.X, b.X) })
	return points[max(0, len(points)-n):]
}
