package journal

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"torchside/calc/words"
)

// Rules of "what worked before", our own choice.
const (
	// NeedSheets is the fewest rated sheets an answer is given from.
	NeedSheets = 3
	// NearThickness is how far the thickness of a sheet may be from the one asked for, as a share: 1.5, 1.6 mm and 16 ga are the
	// same sheet to a torch.
	NearThickness = 0.2
	// acetyleneLimitPa is 15 psi gauge, above which acetylene must not be used: OSHA 29 CFR 1910.253(a)(2).
	acetyleneLimitPa = 15 * 6894.757293168
)

// Wanted is what settings are asked for. Empty fields do not choose; Work and Thick must be given.
type Wanted struct {
	Work, Metal, Joint string
	Thick              float64 // m
	Position           string
	Fuel               string
}

// Worked is what worked before: the median of the best third of the sheets for the same work.
type Worked struct {
	Enough bool
	Sheets int    // rated sheets that fit
	Used   int    // the best third of them, rounded up
	Words  string // says how many
	Sample bool   // they are of the sample journal: there are none of the owner's own
	Score  Spread // of those used
	Newest string // time of the newest one used

	Tip, Filler, Flame      Common
	OxygenPa, FuelPa, Ratio Spread
	FillerD, Speed          Spread
	OverLimit               int // sheets used whose acetylene pressure is over the limit: their pressures are left out
}

// Spread is a median with its lowest and highest value, and how many sheets noted it. N is 0 when none did.
type Spread struct {
	N                 int
	Median, Low, High float64
}

// Common is the word most sheets have; the newest decides between equals.
type Common struct {
	Value string
	N, Of int
}

// Best answers what worked before. Sheets without an overall score, and drafts, count for nothing; between equal scores the
// newer comes first. A fuel pressure over the acetylene limit is never handed on.
func Best(briefs []Brief, w Wanted) Worked {
	fit := ownFirst(fitting(briefs, w))
	out := Worked{Sheets: len(fit), Sample: len(fit) > 0 && fit[0].Sample}
	if len(fit) < NeedSheets {
		out.Words = words.S("Not enough sheets: %s of %s with a score for this work", strconv.Itoa(len(fit)), strconv.Itoa(NeedSheets))
		return out
	}
	slices.SortStableFunc(fit, func(a, b Brief) int {
		return cmp.Or(cmp.Compare(*b.Overall, *a.Overall), compareTimes(b.At, a.At))
	})
	used := fit[:(len(fit)+2)/3]
	out.Enough, out.Used = true, len(used)
	out.Words = words.S("From the best %s of %s", strconv.Itoa(len(used)), words.Count(len(fit), "sheet"))
	out.settings(used)
	return out
}

// ownFirst leaves the sample journal out as soon as there is one sheet of the owner's own.
func ownFirst(list []Brief) []Brief {
	var own []Brief
	for _, b := range list {
		if !b.Sample {
			own = append(own, b)
		}
	}
	if len(own) > 0 {
		return own
	}
	return list
}

func fitting(briefs []Brief, w Wanted) []Brief {
	var fit []Brief
	same := func(wanted, has string) bool { return wanted == "" || wanted == has }
	for _, b := range briefs {
		if b.Draft || b.Overall == nil || b.Thick == nil || b.Work != w.Work || !(math.Abs(*b.Thick-w.Thick) <= NearThickness*w.Thick) {
			continue
		}
		if same(w.Metal, b.Metal) && same(w.Joint, b.Joint) && same(w.Position, b.Position) && (b.Fuel == "" || same(w.Fuel, b.Fuel)) {
			fit = append(fit, b)
		}
	}
	return fit
}

// settings sums up the sheets used.
func (o *Worked) settings(used []Brief) {
	var safe []Brief
	for _, b := range used {
		// A sheet that does not say its fuel is taken for acetylene: the stricter.
		if (b.Fuel == "" || b.Fuel == "acetylene") && b.FuelPa != nil && *b.FuelPa > acetyleneLimitPa {
			o.OverLimit++
			continue
		}
		safe = append(safe, b)
	}
	o.OxygenPa = spreadOf(safe, func(b Brief) *float64 { return b.OxygenPa })
	o.FuelPa = spreadOf(safe, func(b Brief) *float64 { return b.FuelPa })
	o.Score = spreadOf(used, func(b Brief) *float64 { return b.Overall })
	o.Ratio = spreadOf(used, func(b Brief) *float64 { return b.Ratio })
	o.FillerD = spreadOf(used, func(b Brief) *float64 { return b.FillerD })
	o.Speed = spreadOf(used, func(b Brief) *float64 { return b.Speed })
	o.Tip = commonOf(used, func(b Brief) string { return b.Tip })
	o.Filler = commonOf(used, func(b Brief) string { return b.Filler })
	o.Flame = commonOf(used, func(b Brief) string { return b.Flame })
	for _, b := range used {
		if compareTimes(b.At, o.Newest) > 0 {
			o.Newest = b.At
		}
	}
	if o.OverLimit > 0 {
		o.Words += words.S("; pressures of %s left out: acetylene over 15 psi (103 kPa)", words.Count(o.OverLimit, "sheet"))
	}
}

func spreadOf(list []Brief, of func(Brief) *float64) Spread {
	var values []float64
	for _, b := range list {
		if v := of(b); v != nil {
			values = append(values, *v)
		}
	}
	if len(values) == 0 {
		return Spread{}
	}
	slices.Sort(values)
	return Spread{N: len(values), Median: median(values), Low: values[0], High: values[len(values)-1]}
}

func commonOf(list []Brief, of func(Brief) string) Common {
	list = clone(list)
	slices.SortStableFunc(list, func(a, b Brief) int { return compareTimes(b.At, a.At) })
	counts := map[string]int{}
	var c Common
	for _, b := range list {
		if v := of(b); v != "" {
			counts[v]++
			c.Of++
		}
	}
	for _, b := range list {
		if v := of(b); v != "" && counts[v] > c.N {
			c.Value, c.N = v, counts[v]
		}
	}
	return c
}
