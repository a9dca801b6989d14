package setup

import (
	"errors"

	"torchside/calc/braze"
	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
)

// JointQuestion is what a card for brazing is asked besides: the sizes of the joint, in m. What is 0 takes what calc/braze takes.
type JointQuestion struct {
	SeamM, DiameterM, OverlapM, ClearanceM, LegM float64
	Count                                        int
}

// Joining is how a brazed joint is made.
type Joining struct {
	braze.Result
}

// Keys of what joining adds to [Card.Provenance].
const (
	KeyJointHeat    = "joint.heat_to_k"
	KeyJointGap     = "joint.clearance_m"
	KeyJointOverlap = "joint.overlap_m"
	KeyJointLeg     = "joint.leg_m"
	KeyJointFlame   = "joint.flame"
	KeyJointRod     = "joint.rod_m"
	KeyJointFlux    = "joint.flux_kg"
)

// joint is the question as calc/braze takes it. A tube in a cup is a lap with a diameter.
func (q JointQuestion) joint(in Input) braze.Input {
	b := braze.Input{Process: in.Process, Metal: braze.Metal(in.Metal), Other: braze.Metal(in.OtherMetal), Filler: in.Filler, Joint: braze.Joint(in.Joint),
		Thinner: units.Length(in.ThicknessM), Shop: units.Temperature(in.TemperatureK),
		Length: units.Length(q.SeamM), Overlap: units.Length(q.OverlapM), Gap: units.Length(q.ClearanceM), Leg: units.Length(q.LegM), Count: q.Count}
	if q.DiameterM > 0 && (b.Joint == braze.Lap || b.Joint == "") && b.Process != braze.BrazeWeld {
		b.Joint, b.Diameter = braze.Socket, units.Length(q.DiameterM)
	}
	return b
}

// checkJoining refuses what cannot be brazed.
func checkJoining(in Input) *Refusal {
	if in.Work != Braze {
		return onlyBrazing(in)
	}
	_, err := braze.Compute(JointQuestion{}.joint(in))
	return joiningRefusal(err)
}

// onlyBrazing refuses fields that another work has no use for, so that none is silently passed over.
func onlyBrazing(in Input) *Refusal {
	for _, f := range []struct{ field, given string }{{"process", string(in.Process)}, {"other_metal", string(in.OtherMetal)}, {"filler", in.Filler}} {
		if f.given != "" {
			return &Refusal{Code: "only_for_brazing", Field: f.field, Read: f.given, Allowed: words.S("nothing for %s", string(in.Work)), Why: "it is asked for brazing only"}
		}
	}
	return nil
}

// joiningRefusal turns an error of calc/braze into a refusal; nil stays nil.
func joiningRefusal(err error) *Refusal {
	var no *braze.Refusal
	var outside *gas.RangeError
	switch {
	case err == nil:
		return nil
	case errors.As(err, &no):
		return &Refusal{Code: no.Code, Field: no.Field, Read: no.Read, Allowed: no.Allowed, Why: no.Why, Source: no.Source, WaysOut: no.WaysOut}
	case errors.As(err, &outside):
		return &Refusal{Code: "out_of_range", Field: outside.Field, Read: outside.Text(outside.Value), Allowed: words.S("%s to %s", outside.Text(outside.Low), outside.Text(outside.High)), Why: outside.Why}
	}
	return &Refusal{Code: "impossible", Field: "joint", Read: "the joint entered", Allowed: "a joint that can be brazed", Why: err.Error()}
}

// joining fills what calc/braze says of the joint. The question was checked.
func (b *builder) joining() {
	r, err := braze.Compute(JointQuestion{}.joint(b.in))
	if err != nil {
		return
	}
	w := &joiningWriter{card: b.card, in: b.in}
	w.write(r)
	b.card = w.card
}

// ofJoint adds the cautions of the joint to those of the work, each once.
func (b *builder) ofJoint(list []Warning) []Warning {
	if b.card.Joining == nil {
		return list
	}
	return joinWarnings(list, b.card.Joining.Result)
}

// WithJoint answers what a card for brazing is asked besides. The card given is not changed. The error is a *Refusal.
func (c Card) WithJoint(in Input, q JointQuestion) (Card, error) {
	r, err := braze.Compute(q.joint(in))
	if err != nil {
		return c, joiningRefusal(err)
	}
	w := &joiningWriter{card: c.copied(), in: in}
	w.write(r)
	w.card.Warnings = joinWarnings(w.card.Warnings, r)
	w.withHeat(r, q.joint(in))
	return w.card, nil
}

// joiningWriter fills the joint and its provenance together.
type joiningWriter struct {
	card Card
	in   Input
}

func (w *joiningWriter) put(key string, kind Kind, source string, memory bool, b units.Band) {
	if memory {
		source = memoryMark(source)
	}
	w.card.Provenance[key] = Provenance{Kind: kind, Source: source, FromMemory: memory, Low: b.Low, High: b.High, Reason: b.Reason}
}

func (w *joiningWriter) write(r braze.Result) {
	w.card.Joining = &Joining{Result: r}
	w.card.Shade = Shade{r.Shade.Minimum, r.Shade.Low, r.Shade.High}
	w.put("shade", Handbook, r.Shade.Source, false, units.Band{Low: float64(r.Shade.Low), High: float64(r.Shade.High), Reason: r.Shade.Reason})
	w.filler(r)
	w.card.Flux = r.Flux.Name
	if r.Flux.None() {
		w.card.Flux = "none on copper to copper"
	}
	w.put("flux", kindOf(r.Flux.FromMemory), r.Flux.Source, r.Flux.FromMemory, units.Band{Low: r.Flux.Active.Low, High: r.Flux.Active.High})
	works := units.Band{Low: r.HeatTo.Low, High: r.HeatTo.High, Reason: "where the filler is used, and not near where a part begins to melt"}
	w.put(KeyJointHeat, Handbook, r.Filler.Source(), r.Filler.FromMemory, works)
	w.put(KeyJointFlame, kindOf(r.Flame.FromMemory), r.Flame.Source, r.Flame.FromMemory, units.Band{})
	w.sizes(r)
	w.used(r)
}

// kindOf is where a rule of the trade is from: a handbook when it was read in one.
func kindOf(memory bool) Kind {
	if memory {
		return CommonPractice
	}
	return Handbook
}

// filler names the classes of the family that is taken: those of another need another flux.
func (w *joiningWriter) filler(r braze.Result) {
	classes := []string{r.Filler.Class}
	if w.in.Filler == "" {
		classes = nil
		for _, f := range r.Fillers {
			if f.Family == r.Filler.Family {
				classes = append(classes, f.Class)
			}
		}
	}
	melts := Range(r.Filler.Melts())
	w.card.Filler = &Filler{Classes: classes, MeltsK: &melts}
	w.put("filler", Handbook, words.S("%s; order: %s (%s)", r.Filler.Source(), r.Why, r.Source), r.Filler.FromMemory, units.Band{})
}

func (w *joiningWriter) sizes(r braze.Result) {
	if r.Gap.High > 0 {
		w.put(KeyJointGap, kindOf(r.GapFromMemory), r.GapSource, r.GapFromMemory, r.Gap)
	}
	if o := float64(r.Overlap); r.Strong > 0 {
		w.put(KeyJointOverlap, Handbook, "three times the thinner part: AWS by the Copper Tube Handbook, brazed joints", false, units.Band{Low: o, High: o})
	}
	if leg := float64(r.Leg); leg > 0 {
		w.put(KeyJointLeg, CommonPractice, words.S("the thickness of the thinner part, %s", commonPractice), false, units.Band{Low: leg, High: leg})
	}
}

func (w *joiningWriter) used(r braze.Result) {
	u := r.Used
	if u == nil {
		return
	}
	w.put(KeyJointRod, Computed, u.Source, false, u.Rod)
	w.put(KeyJointFlux, Computed, u.FluxSource, u.FluxFromMemory, u.Flux)
}

// concerning is what a note of calc/braze stands before; what is not here concerns the whole card.
var concerning = map[string]string{
	"zinc_in_rod": "filler", "cadmium": "filler", "cadmium_chosen": "filler", "lead": "filler", "butt_is_weak": "filler", "stainless_crevice": "filler",
	"fluoride_flux": "flux", "acid_flux": "flux", "cast_iron_warm": KeyJointHeat,
	"gap_wide": KeyJointGap, "gap_tight": KeyJointGap, "gap_when_hot": KeyJointGap, "overlap_short": KeyJointOverlap,
}

// toCheck are notes about a size that is off.
var toCheck = map[string]bool{"gap_wide": true, "gap_tight": true, "overlap_short": true}

// joinWarnings adds the notes of a joint, each code once.
func joinWarnings(list []Warning, r braze.Result) []Warning {
	out := append([]Warning{}, list...)
	for _, n := range r.Notes {
		level, source := Note, n.Source
		switch {
		case n.Stop:
			level = Caution
		case toCheck[n.Code]:
			level = Check
		}
		if n.FromMemory {
			source = memoryMark(source)
		}
		if !hasCode(out, n.Code) {
			out = append(out, Warning{n.Code, level, n.Text, source, concerning[n.Code]})
		}
	}
	return out
}

func hasCode(list []Warning, code string) bool {
	for _, w := range list {
		if w.Code == code {
			return true
		}
	}
	return false
}
