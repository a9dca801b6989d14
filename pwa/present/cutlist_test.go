package present

import (
	"strings"
	"testing"

	"torchside/calc/setup"
)

// listOf is a cut list on the law's rig.
func listOf(t *testing.T, change func(*setup.Input), rows ...setup.CutRow) setup.CutList {
	t.Helper()
	in := lawQuestion()
	lawChanges["cut"](&in)
	if change != nil {
		change(&in)
	}
	l, err := in.CutList(rows)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// The first sentence says whether the gas lasts, or which gas ends after which piece.
func TestCutList_saysAfterWhichPiece(t *testing.T) {
	for name, c := range map[string]struct {
		change     func(*setup.Input)
		rows       []setup.CutRow
		head, more string
	}{
		"lasts":       {nil, []setup.CutRow{{ThicknessM: 0.01, LengthM: 0.3, Count: 4}}, "The gas lasts for 4 pieces.", "slow hand"},
		"oxygen":      {func(in *setup.Input) { in.Rig.FuelCylinder.Count = 3 }, []setup.CutRow{{ThicknessM: 0.01, LengthM: 12, Count: 1}, {ThicknessM: 0.008, LengthM: 12, Count: 3}}, "Oxygen runs out first, after piece 2 of 4.", "down to its reserve"},
		"first piece": {nil, []setup.CutRow{{ThicknessM: 0.01, LengthM: 300, Count: 1}}, "Oxygen runs out first, in the first piece of 1.", "At worst"},
		"unknown":     {func(in *setup.Input) { in.Rig.OxygenCylinder = nil }, []setup.CutRow{{ThicknessM: 0.01, LengthM: 1, Count: 1}}, "cannot be told", "enter it under Rig"},
		"fuel": {func(in *setup.Input) { in.Rig.OxygenCylinder.Count = 20 }, []setup.CutRow{{ThicknessM: 0.01, LengthM: 20, Count: 9}},
			"Acetylene runs out first, after piece", "may not be drawn"},
	} {
		v := NewCutList(listOf(t, c.change, c.rows...), metric)
		if !strings.Contains(v.Lasts, c.head) || !strings.Contains(strings.Join(v.More, " "), c.more) {
			t.Errorf("%s: %q, %q", name, v.Lasts, v.More)
		}
		if len(v.Standing) == 0 || len(v.Rows) != len(c.rows) || len(v.Facts) < 4 {
			t.Errorf("%s: %d standing cautions, %d rows", name, len(v.Standing), len(v.Rows))
		}
	}
}

// Owners read one system of units.
func TestCutList_speaksOneSystemOfUnits(t *testing.T) {
	inBothSystems(t, func(t *testing.T, s *spoken, o Options) {
		v := NewCutList(listOf(t, nil, setup.CutRow{ThicknessM: 0.01, LengthM: 12, Count: 9}, setup.CutRow{ThicknessM: 0.016, LengthM: 2, Count: 1}), o)
		s.warnings("cut list", append(append(v.Standing, v.Cautions...), v.Checks...))
		s.check("cut list", append(v.More, v.Lasts)...)
		for _, list := range append(v.Rows, v.Facts) {
			for _, f := range list {
				s.check(f.Val, f.Value, f.Name)
			}
		}
	})
}
