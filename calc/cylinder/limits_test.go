package cylinder

import (
	"testing"

	"torchside/calc/calctest"
)

// The withdrawal rules and the storage ceiling are the rows they cite. ACE-W1 and ACE-T1 were read (Army OD0017, TC 9-237); the
// shares of ACE-W2 to W4 are from memory: this only holds the code to what was remembered.
func TestLimits_areTheRowsTheyCite(t *testing.T) {
	row := func(id string) calctest.Row {
		rows := calctest.Where(t, calctest.Reference(t, "limits.csv"), "id", id)
		if len(rows) != 1 {
			t.Fatalf("%d rows %s in limits.csv", len(rows), id)
		}
		return rows[0]
	}
	calctest.Near(t, FlatWithdrawalCubicFeet, row("ACE-W1").Number("value_us"), 0, "printed whole")
	calctest.Near(t, float64(StorageCeiling)-273.15, row("ACE-T1").Number("value_si"), 0.01, "printed in whole °C")
	const share = 1e-3 // printed with three or four digits
	calctest.Near(t, withdrawals[0].Intermittent, row("ACE-W3").Number("value_si"), share, "three or four digits")
	calctest.Near(t, withdrawals[0].Continuous, row("ACE-W4").Number("value_si"), share, "three or four digits")
	calctest.Near(t, withdrawals[1].Intermittent, row("ACE-W2").Number("value_si"), share, "three or four digits")
}
