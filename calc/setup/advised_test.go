package setup

import (
	"strings"
	"testing"
)

// A hole that the cylinder cannot feed is not advised: the way out is more cylinders.
func TestCompute_noHoleIsAdvisedThatTheCylinderCannotFeed(t *testing.T) {
	in := eighth()
	in.ThicknessM = 0.006
	in.Rig.FuelCylinder = &FuelCylinder{Fuel: "acetylene", GrossMassKg: p(37), TareMassKg: p(36), FullMassKg: p(1.2)}
	in.Rig.Tips = []Tip{{Label: "a", OrificeDiameterM: p(0.0004)}, {Label: "b", OrificeDiameterM: p(0.0005)}}
	no := refused(t, in)
	all := strings.Join(no.WaysOut, "; ")
	if strings.Contains(all, "drill") || !strings.Contains(all, "manifold") || !strings.Contains(no.Why, "from the cylinders as they are now") {
		t.Errorf("%+v", no)
	}
}

// A hole that the hose starves of acetylene is not advised: the way out is another hose.
func TestCompute_noHoleIsAdvisedThatTheHoseCannotFeed(t *testing.T) {
	in := eighth()
	in.ThicknessM, in.Rig.FuelCylinder.Count = 0.006, 20
	in.Rig.FuelHose.InsideDiameterM, in.Rig.FuelHose.LengthM = 0.0025, 80
	in.Rig.Tips = []Tip{{Label: "a", OrificeDiameterM: p(0.0004)}, {Label: "b", OrificeDiameterM: p(0.0005)}}
	no := refused(t, in)
	all := strings.Join(no.WaysOut, "; ")
	if strings.Contains(all, "drill") || !strings.Contains(all, "wider or shorter hose") {
		t.Errorf("%+v", no)
	}
}
