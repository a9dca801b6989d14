package heat

import (
	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
)

// Input is one question.
type Input struct {
	Metal  Metal
	Piece  Piece
	Zone   units.Length      // length of the piece under the flame, in its middle
	Target units.Temperature // mean of the zone
	Start  units.Temperature // of the whole piece
	// Ambient is that of the air; 0 takes 20 °C, or Start when the piece is colder.
	Ambient units.Temperature
	Power   units.Power // of the flame, lower heating value
	// Efficiency is the share of Power that enters the metal. EfficiencyLow and EfficiencyHigh bound it; 0 takes Efficiency less
	// or more EfficiencySpread of itself.
	Efficiency, EfficiencyLow, EfficiencyHigh float64
	At                                        []units.Length // distances from the middle of the zone, along the piece
}

// EfficiencySpread is how far the efficiency may be off, as a share of itself, when nothing narrower is known. From memory: welding
// texts give 20 to 60 % for the same work.
const EfficiencySpread = 0.3

// Point is the temperature at one distance.
type Point struct {
	At          units.Length
	Temperature units.Temperature // when the zone reaches its target
	// Peak is the highest it gets, with the weakest flame of the band and while the piece cools in still air; PeakAfter is the time
	// from the end of heating to it.
	Peak      units.Temperature
	PeakAfter units.Duration
}

// Result is the answer.
type Result struct {
	// Time of heating, s; Low with the best efficiency, High with the worst. High is 0 when the worst never gets there: see NeverHigh.
	Time      units.Band
	NeverHigh bool
	Energy    float64 // the flame gave to the metal, J: power × efficiency × time
	Stored    float64 // of it, in the metal at the end
	Lost      float64 // of it, to the air meanwhile
	Middle    units.Temperature
	Points    []Point
	Notes     []Note
}

// Compute answers a question. The error is a *gas.RangeError or a *WordError, with the field as the command line writes it.
func Compute(in Input) (Result, error) {
	in = in.withDefaults()
	p, err := in.check()
	if err != nil {
		return Result{}, err
	}
	v := newSolver(curvesOf(p, float64(in.Ambient), in.Piece.section().height), in.Piece.section(), in.Piece.Length, float64(in.Zone), usual)
	time, ok := in.heat(v, in.Efficiency)
	if !ok {
		return Result{}, in.never(float64(v.mean()))
	}
	r := Result{Time: units.Band{Value: time, Reason: reasonBand}, Energy: 2 * v.in, Stored: 2 * v.stored(float64(in.Start)), Lost: 2 * v.lost,
		Middle: units.Temperature(v.t[0])}
	in.points(&r, v)
	r.Time.Low, _ = in.heat(v, in.EfficiencyHigh)
	if high, ok := in.heat(v, in.EfficiencyLow); ok {
		r.Time.High = high
	} else {
		r.NeverHigh = true
	}
	in.peaks(&r, v)
	r.Notes = in.notes(p, r)
	return r, nil
}

const reasonBand = "the share of the flame's heat that enters the metal is a guess: it depends on distance, angle and draught"

// heat runs the solver with one efficiency. Half of the heat goes into the half that is solved.
func (in Input) heat(v *solver, efficiency float64) (float64, bool) {
	v.start(float64(in.Start), float64(in.Power)*efficiency/2)
	return v.reach(float64(in.Target), usualPace)
}

// points reads the temperatures at the end of heating.
func (in Input) points(r *Result, v *solver) {
	for _, x := range in.At {
		t := units.Temperature(v.at(float64(x)))
		r.Points = append(r.Points, Point{At: x, Temperature: t, Peak: t})
	}
}

// peaks lets the bar cool after the weakest flame, which heats longest and so farthest.
func (in Input) peaks(r *Result, v *solver) {
	if len(in.At) == 0 {
		return
	}
	at := make([]float64, len(in.At))
	for i, x := range in.At {
		at[i] = float64(x)
	}
	peak, when := v.soak(at)
	for i := range r.Points {
		if k := units.Temperature(peak[i]); k > r.Points[i].Peak {
			r.Points[i].Peak, r.Points[i].PeakAfter = k, units.Duration(when[i])
		}
	}
}

func (in Input) withDefaults() Input {
	if in.Metal == "" {
		in.Metal = MildSteel
	}
	if in.Ambient == 0 {
		in.Ambient = min(20+zeroCelsius, in.Start)
	}
	if in.EfficiencyLow == 0 {
		in.EfficiencyLow = in.Efficiency * (1 - EfficiencySpread)
	}
	if in.EfficiencyHigh == 0 {
		in.EfficiencyHigh = min(1, in.Efficiency*(1+EfficiencySpread))
	}
	return in
}

// Limits of a question.
const (
	coldest    = -40 + zeroCelsius
	hottestAir = 60 + zeroCelsius
	leastZone  = 0.001
	leastPower = 10
	mostPower  = 1e6
)

func (in Input) check() (Properties, error) {
	p, err := PropertiesOf(in.Metal)
	if err != nil {
		return p, err
	}
	if err := in.Piece.check(); err != nil {
		return p, err
	}
	target, start := float64(in.Target), float64(in.Start)
	for _, err := range []error{
		gas.InRange("zone_m", float64(in.Zone), leastZone, in.Piece.Length, "m", "the zone cannot be longer than the piece"),
		gas.InRange("start_k", start, coldest, p.Melts.Low, "K", words.S("a solid piece of %s in a shop: it starts to melt at the upper limit", in.Metal.Name())),
		gas.InRange("target_k", target, start, p.Melts.Low, "K", words.S("a flame cannot cool below the start, and %s starts to melt at the upper limit", in.Metal.Name())),
		gas.InRange("ambient_k", float64(in.Ambient), coldest, hottestAir, "K", "air of a shop"),
		gas.InRange("flame_power_w", float64(in.Power), leastPower, mostPower, "W", "torch flames lie in this range"),
		gas.InRange("efficiency", in.Efficiency, 0.01, 1, "", "the share of the flame's heat that enters the metal; it cannot be more than all"),
		gas.InRange("efficiency_low", in.EfficiencyLow, 0.001, in.Efficiency, "", "it bounds the efficiency from below"),
		gas.InRange("efficiency_high", in.EfficiencyHigh, in.Efficiency, 1, "", "it bounds the efficiency from above"),
		in.checkPoints(),
	} {
		if err != nil {
			return p, err
		}
	}
	return p, nil
}

func (in Input) checkPoints() error {
	for _, x := range in.At {
		if err := gas.InRange("at_m", float64(x), 0, in.Piece.Length/2, "m", "distances are from the middle of the zone, along the piece to its end"); err != nil {
			return err
		}
	}
	return nil
}

// never refuses a target that the flame does not reach; reached is where the zone came to.
func (in Input) never(reached float64) error {
	return &gas.RangeError{Field: "target_k", Value: float64(in.Target), Low: float64(in.Start), High: min(reached, float64(in.Target)), Unit: "K",
		Why: "with this flame the zone gets no hotter within 4 hours: the bar carries the heat away and the air takes it as fast as it comes; take a larger flame or a shorter zone"}
}
