package present

import (
	"math"
	"strconv"
	"strings"
	"time"

	"torchside/calc/gas"
	"torchside/calc/leak"
	"torchside/calc/units"
	"torchside/calc/words"
)

// LeakInput is what the readings of a leak test say, as package leak gives it.
type LeakInput struct {
	Section  leak.Section
	Gas      gas.Gas
	Verdict  leak.Verdict
	Sized    bool // there is a rate
	Leak     units.Band
	Smallest units.StandardFlow
	Allowed  units.StandardFlow
	Default  bool // the allowed leak is the program's
	Certain  bool
	Small    bool
	More     units.Duration
	Elapsed  units.Duration
	Tight    *units.GaugePressure
	Notes    []leak.Note
	Finding  *leak.Finding
	Losses   *leak.Losses
	Air      *leak.Air
	AtMost   bool
}

// LeakVerdict is a verdict ready to show: the word, what it means in one sentence, what to read first, and the numbers.
type LeakVerdict struct {
	Word     string // "Tight", "Leaking", "Undecided"
	Sign     string // "tight", "leaking" or "undecided": names shape and colour
	Lead     string
	Warnings []Warning // what concerns safety, before the numbers
	Facts    []Fact
	Meaning  []Fact // what the leak means in money and in the room's air
	Finding  *LeakFinding
	Notes    []Warning
	Longer   int // minutes an undecided test should go on; 0 when more time is no help
}

// Fact is one line of a list of facts; Val is its data-val hook.
type Fact struct{ Name, Value, Val string }

// Own tells whether the value is the owner's own text, to be shown as it was written.
func (f Fact) Own() bool {
	switch f.Val {
	case "sheet.place", "sheet.tip", "sheet.flux", "sheet.filler":
		return true
	}
	return false
}

// LeakFinding says where the gas goes.
type LeakFinding struct{ Text, Next, Source string }

// NewLeakVerdict writes a verdict.
func NewLeakVerdict(in LeakInput, o Options) LeakVerdict {
	v := LeakVerdict{Word: words.Capital(string(in.Verdict)), Sign: string(in.Verdict), Lead: lead(in, o)}
	for _, n := range in.Notes {
		if n.Stop {
			v.Warnings = append(v.Warnings, noteWarning(n, "caution", "Caution", o))
		} else {
			v.Notes = append(v.Notes, noteWarning(n, "note", "Note", o))
		}
	}
	if in.Air != nil {
		for _, n := range in.Air.Notes {
			if n.Stop {
				v.Warnings = append(v.Warnings, noteWarning(n, "caution", "Caution", o))
			} else {
				v.Notes = append(v.Notes, noteWarning(n, "note", "Note", o))
			}
		}
	}
	if in.Finding != nil {
		v.Finding = &LeakFinding{Text: in.Finding.Text, Next: in.Finding.Next, Source: in.Finding.Source}
	}
	v.Facts, v.Meaning = leakFacts(in, o), leakMeaning(in, o)
	if in.Verdict == leak.Undecided && in.More > 0 && in.More <= maxLonger {
		v.Longer = int(math.Ceil(float64(in.More) / units.Minute))
	}
	return v
}

// Decided reports whether the verdict will do: more readings are then no longer the main thing.
func (v LeakVerdict) Decided() bool {
	return v.Sign == string(leak.Tight) || v.Sign == string(leak.Leaking)
}

// maxLonger is the longest wait that is offered with one tap; a longer one is no advice any more.
const maxLonger = 24 * units.Hour

func noteWarning(n leak.Note, level, word string, o Options) Warning {
	source := n.Source
	if n.Trust == leak.TrustMemory && !words.Says(source, "common practice") {
		source += words.T(" (from memory)")
	}
	return Warning{Code: n.Code, Level: level, Word: word, Text: o.Units.Say(n.Text), Source: source}
}

// lead is the verdict as a sentence.
func lead(in LeakInput, o Options) string {
	flow := leakFlow(in.Gas, o)
	creep := in.Section == leak.RegulatorCreep
	switch {
	case in.Verdict == leak.Leaking && !in.Sized:
		return "The gauge fell: gas is lost, how much this gauge cannot tell."
	case in.Verdict == leak.Leaking && creep:
		return words.S("The regulator creeps: %s pass its shut seat.", flow(in.Leak.Value))
	case in.Verdict == leak.Leaking && in.Leak.Low > float64(in.Allowed):
		return words.S("It loses %s, more than the %s allowed.", flow(in.Leak.Value), flow(float64(in.Allowed)))
	case in.Verdict == leak.Leaking:
		return words.S("It surely loses gas, about %s, and it may be %s, more than the %s allowed.", flow(in.Leak.Value), flow(in.Leak.High), flow(float64(in.Allowed)))
	case in.Small:
		return words.S("A small but certain leak: it loses %s, surely more than nothing and less than the %s allowed.", flow(in.Leak.Value), flow(float64(in.Allowed)))
	case in.Verdict == leak.Tight && creep:
		return words.S("The seat holds: less than the %s allowed pass it.", flow(float64(in.Allowed)))
	case in.Verdict == leak.Tight:
		return words.S("It loses less than the %s allowed, whatever the gauge hides.", flow(float64(in.Allowed)))
	case in.Certain:
		return words.S("It does lose gas, and how much compared with the %s allowed cannot be told yet.", flow(float64(in.Allowed)))
	case !in.Sized:
		return "The gauge did not fall, which is no proof for this gas."
	case in.More > maxLonger:
		return words.S("The gauge hides more than the %s allowed, and waiting would take too long: test a smaller volume, with a finer gauge or a steadier temperature.", flow(float64(in.Allowed)))
	case in.More > 0:
		return words.S("The gauge still hides more than the %s allowed. Leave it %s more and read again.", flow(float64(in.Allowed)), Span(in.More))
	}
	return "These readings cannot tell; see below why."
}

// leakFlow writes flows of a gas in the owner's units.
func leakFlow(g gas.Gas, o Options) func(float64) string {
	return func(si float64) string {
		return words.Number(units.Format(units.QuantityStandardFlow, si, o.Units.Unit(units.QuantityStandardFlow), g.StandardRatio()))
	}
}

// LeakFlow writes a flow of a gas in the owner's units.
func LeakFlow(si float64, ratio units.StandardRatio, o Options) string {
	return words.Number(units.Format(units.QuantityStandardFlow, si, o.Units.Unit(units.QuantityStandardFlow), ratio))
}

// leakFacts are the numbers of the test.
func leakFacts(in LeakInput, o Options) []Fact {
	flow := leakFlow(in.Gas, o)
	bare := func(si float64) string {
		return words.Number(units.FormatNumber(units.QuantityStandardFlow, si, o.Units.Unit(units.QuantityStandardFlow), in.Gas.StandardRatio()))
	}
	var list []Fact
	if in.Sized {
		name := "Leak"
		if in.Section == leak.RegulatorCreep {
			name = "Creep past the seat"
		}
		list = append(list,
			Fact{name, words.S("%s, from %s", flow(in.Leak.Value), strings.ReplaceAll(bare(in.Leak.Low)+" to "+bare(in.Leak.High), "-", "−")), "leak.leak"},
			Fact{"Smallest leak it could have seen", flow(float64(in.Smallest)), "leak.smallest"})
	}
	allowed := flow(float64(in.Allowed))
	if in.Default {
		allowed += words.T(", ours")
	}
	list = append(list, Fact{"Allowed", allowed, "leak.allowed"}, Fact{"Time between first and last reading", Span(in.Elapsed), "leak.elapsed"})
	if in.Tight != nil {
		list = append(list, Fact{"A tight one would show", words.Number(units.Format(units.QuantityPressure, float64(*in.Tight), o.Units.Unit(units.QuantityPressure), 0)), "leak.tight_gauge"})
	}
	if in.Sized {
		list = append(list, Fact{"State of these figures", leakFlowState(o), ""})
	}
	return list
}

// leakFlowState names the state of the shown flows.
func leakFlowState(o Options) string { return stateOf(o.Units.Unit(units.QuantityStandardFlow)) }

// stateOf names the state that a unit of gas is stated at, both at 101.325 kPa.
func stateOf(u units.Unit) string {
	if u.NeedsGas() {
		return "gas at 70 °F and 1 atm"
	}
	return "gas at 15 °C and 1 atm"
}

// leakMeaning is what the leak loses and what it does to the room's air.
func leakMeaning(in LeakInput, o Options) []Fact {
	var list []Fact
	most := ""
	if in.AtMost {
		most = "at most "
	}
	if l := in.Losses; l != nil {
		week := words.Number(units.Format(units.QuantityStandardVolume, float64(l.PerWeek), o.Units.Unit(units.QuantityStandardVolume), in.Gas.StandardRatio()))
		list = append(list, Fact{"Lost in a week, cylinder open", most + week, "leak.per_week"})
		if l.MoneyPerWeek > 0 {
			list = append(list, Fact{"Money a week", most + o.Currency + words.Number(strconv.FormatFloat(l.MoneyPerWeek, 'f', 2, 64)), "leak.money"})
		}
		if l.ToEmpty != nil {
			least := ""
			if in.AtMost {
				least = "at least "
			}
			list = append(list, Fact{"Cylinder empty after", least + days(*l.ToEmpty), "leak.to_empty"})
		}
	}
	if in.Air != nil {
		list = append(list, airFacts(in)...)
	}
	return list
}

// airFacts are the room's air, against the limits.
func airFacts(in LeakInput) []Fact {
	a := in.Air
	if in.Gas == gas.Oxygen {
		list := []Fact{{"Oxygen in your room in the end, at most", airShare(a.SteadyOxygen), "leak.oxygen"}}
		return append(list, Fact{"Until 23.5 % oxygen, where air counts as rich, at the earliest", never(a.ToOxygen), "leak.to_oxygen"})
	}
	list := []Fact{{"In your room's air in the end, at most", airShare(a.Steady), "leak.steady"}}
	if a.Limit != nil {
		list = append(list,
			Fact{"Lower flammable limit", airShare(a.Limit.Fraction), "leak.limit"},
			Fact{"Until a tenth of it, where air counts as hazardous, at the earliest", never(a.ToTenth), "leak.to_tenth"},
			Fact{"Until the limit itself, at the earliest", never(a.ToLimit), "leak.to_limit"})
	}
	return list
}

func never(d *units.Duration) string {
	if d == nil {
		return "never reached"
	}
	return days(*d)
}

// days writes a time of hours or days.
func days(d units.Duration) string {
	if d < 48*units.Hour {
		return Span(d)
	}
	return words.S("%s days", words.Number(strconv.FormatFloat(math.Floor(float64(d)/(24*units.Hour)), 'f', 0, 64)))
}

// airShare writes a fraction with two digits that count; what is below a thousandth of a per cent is said so.
func airShare(f float64) string {
	p := f * 100
	switch {
	case p == 0:
		return "0 %"
	case p < 0.001:
		return "less than 0.001 %"
	case p >= 10:
		return words.Number(strconv.FormatFloat(p, 'f', 1, 64)) + " %"
	}
	return words.Number(strconv.FormatFloat(p, 'g', 2, 64)) + " %"
}

// Span writes a duration for a person.
func Span(d units.Duration) string {
	minutes, _ := units.UnitBySymbol(units.QuantityDuration, "min")
	return words.Number(units.Format(units.QuantityDuration, float64(d), minutes, 0))
}

// CountDown writes what is left of a timer, in ms, as clocks do: "9:59", "1:05:00".
func CountDown(ms int64) string {
	s := (ms + 999) / 1000 // a timer of ten minutes begins with 10:00 and ends with 0:00
	if s < 0 {
		s = 0
	}
	two := func(n int64) string {
		if n < 10 {
			return "0" + strconv.FormatInt(n, 10)
		}
		return strconv.FormatInt(n, 10)
	}
	if s >= 3600 {
		return strconv.FormatInt(s/3600, 10) + ":" + two(s%3600/60) + ":" + two(s%60)
	}
	return strconv.FormatInt(s/60, 10) + ":" + two(s%60)
}

// Ago says how long ago something was, in ms.
func Ago(ms int64) string {
	if ms < 5000 {
		return "now"
	}
	return words.S("%s ago", Span(units.Duration(math.Floor(float64(ms)/1000))))
}

// Day writes an instant as a day, Moment with the time of day, both of the place.
func Day(ms int64) string    { return time.UnixMilli(ms).Format("2006-01-02") }
func Moment(ms int64) string { return time.UnixMilli(ms).Format("2006-01-02 15:04") }

// Due says when the next test is due.
func Due(due, now int64) string {
	const day = 24 * 3600 * 1000
	switch {
	case due == 0:
		return ""
	case now >= due+day:
		return words.S("due since %s", words.Count(int((now-due)/day), "day"))
	case now >= due-day:
		return "due today"
	}
	return words.S("due in %s", words.Count(int((due-now+day-1)/day), "day"))
}
