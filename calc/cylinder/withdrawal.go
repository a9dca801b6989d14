package cylinder

import (
	"math"

	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
)

// WithdrawalRule names how much of an acetylene cylinder's contents may be drawn in an hour before solvent comes with it.
type WithdrawalRule string

// The rules. Both come from memory: they may restrict, and never lift the flat limit of FlatWithdrawal.
const (
	// TenthFifteenth is the newer and stricter rule and the default: 1/10 an hour intermittent, 1/15 continuous.
	TenthFifteenth WithdrawalRule = "tenth_fifteenth"
	// Seventh is the older rule: 1/7 an hour.
	Seventh WithdrawalRule = "seventh"
)

// Trust says how far a source is to be trusted, in the letters of testdata/reference.
type Trust string

// Grades of trust used here.
const (
	TrustRead   Trust = "A" // read in the standard or manual
	TrustMemory Trust = "C" // from memory, not read: may restrict, never permit
	TrustOwn    Trust = "D" // computed or chosen here
)

// Withdrawal is what a WithdrawalRule says.
type Withdrawal struct {
	Rule                     WithdrawalRule
	Intermittent, Continuous float64 // share of the present contents per hour
	Source                   string
	Trust                    Trust
}

// withdrawals: rows ACE-W2 to ACE-W4 of testdata/reference/limits.csv, from memory. Shares are of the present contents, the safer
// reading: a nearly empty cylinder gives less than a full one.
var withdrawals = []Withdrawal{
	{TenthFifteenth, 1.0 / 10, 1.0 / 15, "CGA G-1 (2009 and later), NFPA 51/55, from memory", TrustMemory},
	{Seventh, 1.0 / 7, 1.0 / 7, "older CGA G-1 and NFPA 51, from memory", TrustMemory},
}

// Withdrawals returns all rules, strictest first; the slice is the caller's.
func Withdrawals() []Withdrawal { return append([]Withdrawal(nil), withdrawals...) }

// Withdrawal returns what the rule says; the empty rule is the strictest. An unknown one is an *UnknownRuleError.
func (r WithdrawalRule) Withdrawal() (Withdrawal, error) {
	if r == "" {
		return withdrawals[0], nil
	}
	for _, w := range withdrawals {
		if w.Rule == r {
			return w, nil
		}
	}
	return Withdrawal{}, &UnknownRuleError{r}
}

// UnknownRuleError refuses a withdrawal rule that does not exist.
type UnknownRuleError struct{ Rule WithdrawalRule }

// Error names the rule and what is allowed.
func (e *UnknownRuleError) Error() string {
	return words.F("withdrawal_rule is %q, allowed are %s (strictest, the default) and %s", string(e.Rule), TenthFifteenth, Seventh)
}

const (
	// FlatSource is the source of FlatWithdrawal.
	FlatSource = "Army Ordnance subcourse OD0017: not above 50 ft³/h from one cylinder"
	// FlatWithdrawalCubicFeet is the flat limit of one cylinder in ft³/h at 70 °F: Army Ordnance subcourse OD0017 (row ACE-W1). The
	// text speaks of continuous use; it caps intermittent use too, because no text that was read permits more.
	FlatWithdrawalCubicFeet = 50
	cubicFoot               = 0.028316846592 // m³, exact: 0.3048³
	secondsPerHour          = 3600
)

// FlatWithdrawal returns the flat limit of one cylinder, whatever its size.
func FlatWithdrawal() units.StandardFlow {
	return units.StandardFlow(FlatWithdrawalCubicFeet * cubicFoot * float64(gas.Acetylene.StandardRatio()) / secondsPerHour)
}

// Cold derating: below coldStart the limits fall by coldSlope per kelvin, to coldFloor at the least. Common practice, no source,
// says to draw less from a cold cylinder; the slope is ours, from memory of no rule, chosen to fall as fast as the pressure that drives
// the gas out of solution (half full: one third less at 0 °C than at 15 °C). It can only restrict.
const (
	coldStart units.Temperature = 288.15 // 15 °C
	coldSlope float64           = 0.023  // per K
	coldFloor float64           = 0.1
)

// ColdFactor returns the share of the withdrawal limits left at t: 1 from 15 °C up, less below, never more than 1.
func ColdFactor(t units.Temperature) float64 {
	return min(1, max(coldFloor, 1-coldSlope*float64(coldStart-t)))
}

// limit is the flow one cylinder may give at a share of its contents per hour.
func limit(share float64, contents units.StandardVolume, t units.Temperature) units.StandardFlow {
	byShare := units.StandardFlow(share * float64(contents) / secondsPerHour)
	return units.StandardFlow(ColdFactor(t)) * min(byShare, FlatWithdrawal())
}

// cylindersMaximum is more than any shop joins.
const cylindersMaximum = 1000

// CylindersNeeded returns how many like cylinders together may give a flow when one may give limit. Errors: *gas.RangeError for a
// flow below zero or of more than cylindersMaximum cylinders, which includes any flow from empty ones.
func CylindersNeeded(flow, limit units.StandardFlow) (int, error) {
	if !(limit > 0) || math.IsInf(float64(limit), 0) {
		return 0, &gas.RangeError{Field: "limit_std_m3_s", Value: float64(limit), Low: 0, High: float64(FlatWithdrawal()), Unit: "m³/s",
			Why: "an empty cylinder gives nothing, however many are joined"}
	}
	if err := gas.InRange("flow_std_m3_s", float64(flow), 0, cylindersMaximum*float64(limit), "m³/s", "no shop joins a thousand cylinders"); err != nil {
		return 0, err
	}
	// The last bit must not ask for one cylinder more than the flow divides into.
	return max(1, int(math.Ceil(float64(flow/limit)*(1-1e-12)))), nil
}
