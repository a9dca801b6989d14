package state

import (
	"torchside/calc/heat"
	"torchside/calc/setup"
	"torchside/calc/units"
)

// Keys of what heating and bending ask besides thickness, in Setup.Typed. The shape is a word of calc/heat.
const (
	keyShape    = "shape"
	keyAcross   = "across" // width of a flat or plate, outside diameter of a tube
	keyLength   = "length"
	keyZone     = "zone"
	keyTarget   = "target"
	keyDistance = "distance"
	keyRadius   = "radius"
	keyAngle    = "angle"
	keyLegs     = "legs"
)

const whyPiece = "torch work lies in this range"

// heatSpecs are the typed fields of heating and bending. What is left empty is not worked out, but for those that say otherwise.
var heatSpecs = []Spec{
	numberSpec(keyAcross, "Width", "Of the bar or plate.", units.QuantityThickness, 0.001, 3, whyPiece),
	numberSpec(keyRadius, "Inside radius of the bend", "Of the inner side, as bent.", units.QuantityThickness, 0, 3, whyPiece),
	numberSpec(keyAngle, "Bent through, in degrees", "Empty takes a right angle, 90.", units.QuantityNumber, 1, 360, "a bend turns the bar by 1 to 360 degrees"),
	numberSpec(keyLegs, "Straight lengths, together", "Before and after the bend, from where it begins.", units.QuantityThickness, 0, 12, whyPiece),
	numberSpec(keyZone, "Length to heat", "Along the bar, in its middle.", units.QuantityThickness, 0.002, 3, whyPiece),
	numberSpec(keyTarget, "Heat to", "Mean of the heated length.", units.QuantityTemperature, 233.15, 1800, "steel melts above this"),
	numberSpec(keyLength, "Whole length", "Empty takes a bar of 1 m (3.28 ft).", units.QuantityThickness, 0.01, 12, whyPiece),
	numberSpec(keyDistance, "Keep an eye on, at a distance", "A seal, paint, a bearing: from the middle of the heat.", units.QuantityThickness, 0, 6, whyPiece),
}

// usualLength is the length of a bar that is not told, m: far longer than heat runs while a torch is held. It is shown.
const usualLength = 1

// heats tells whether the work is heating or bending.
func (s Setup) heats() bool { return s.Work == string(setup.Heat) || s.Work == string(setup.Bend) }

// asks tells whether a field belongs to the question as chosen so far.
func (s Setup) asks(key string) bool {
	switch key {
	case keyAcross:
		return s.heats() && s.shape() != heat.Round
	case keyRadius, keyAngle, keyLegs:
		return s.Work == string(setup.Bend)
	case keyLength, keyZone, keyTarget, keyDistance:
		return s.heats()
	case keyPurity:
		return s.cuts()
	case keyWeld:
		return s.Work == string(setup.Weld)
	case keySeam, keyTube, keyOverlap, keyGap, keyLeg, keyJoints:
		return s.joins() && s.asksJoint(key)
	}
	return true
}

func (s Setup) shape() heat.Shape {
	if word := s.Typed[keyShape]; word != "" {
		return heat.Shape(word)
	}
	return heat.Round
}

var shapeOptions = []Option{
	{Value: string(heat.Round), Label: "Round"}, {Value: string(heat.Flat), Label: "Flat", Note: "or square"},
	{Value: string(heat.Tube), Label: "Tube"}, {Value: string(heat.Plate), Label: "Plate", Note: "a band over its width"},
}

// pieceFields are the fields of the work alone, ready to show, in the order they are entered.
func (s Setup) pieceFields() []FormField {
	switch {
	case s.cuts():
		return s.cutFields()
	case s.joins():
		return s.jointFields()
	case s.asks(keyWeld):
		return []FormField{s.Fields[keyWeld]}
	case !s.heats():
		return nil
	}
	list := []FormField{{Key: keyShape, Label: "Shape", Type: TypeChoice, Text: string(s.shape()), Options: shapeOptions}}
	for _, spec := range heatSpecs {
		if s.asks(spec.Key) {
			list = append(list, s.heatField(s.Fields[spec.Key]))
		}
	}
	return list
}

// heatField words a field for the shape and the work.
func (s Setup) heatField(f FormField) FormField {
	switch {
	case f.Key == "thickness" && s.heats() && s.shape() == heat.Round:
		f.Label, f.Help = "Bar diameter", "As 5/8 in or 16 mm. For another shape see below."
	case f.Key == "thickness" && s.heats() && s.shape() == heat.Tube:
		f.Label, f.Help = "Wall thickness", "Of the tube, as 1/8 in or 3 mm."
	case f.Key == keyAcross && s.shape() == heat.Tube:
		f.Label, f.Help = "Outside diameter", "Thickness is that of the wall."
	case f.Key == keyZone && s.Work == string(setup.Bend):
		f.Help = "Empty takes the bend and a thickness on either side."
	case f.Key == keyTarget && s.Work == string(setup.Bend):
		f.Help = "Empty takes the usual bending heat of the metal."
	}
	return f
}

// heating asks a card how long its flame takes. Until the question is complete the card stays as it is.
func (s Setup) heating(card setup.Card, in setup.Input, si map[string]float64) (setup.Card, error) {
	if !s.heats() {
		return card, nil
	}
	q := setup.HeatingQuestion{Piece: s.piece(in.ThicknessM, si), ZoneM: si[keyZone], TargetK: si[keyTarget]}
	if d, ok := si[keyDistance]; ok {
		q.AtM = &d
	}
	if radius, ok := si[keyRadius]; ok && s.Work == string(setup.Bend) {
		angle, ok := si[keyAngle]
		if !ok {
			angle = 90
		}
		across := in.ThicknessM
		if q.Piece.Shape == heat.Tube {
			across = si[keyAcross]
		}
		q.Bend = &heat.Bend{InsideRadius: radius, Thickness: across, Angle: angle, Legs: [2]float64{si[keyLegs], 0}}
	}
	if !s.complete(q, si) {
		return card, nil
	}
	return card.WithHeating(in, q)
}

// complete tells whether there is enough to work with.
func (s Setup) complete(q setup.HeatingQuestion, si map[string]float64) bool {
	_, across := si[keyAcross]
	return (across || s.shape() == heat.Round) && (q.ZoneM > 0 || q.Bend != nil) && (q.TargetK > 0 || s.Work == string(setup.Bend))
}

// piece puts the typed sizes together; thickness is the diameter of a round bar and the wall of a tube.
func (s Setup) piece(thickness float64, si map[string]float64) heat.Piece {
	p := heat.Piece{Shape: s.shape(), Length: si[keyLength]}
	if p.Length == 0 {
		p.Length = max(usualLength, 2*si[keyDistance])
	}
	switch p.Shape {
	case heat.Tube:
		p.Wall, p.Diameter = thickness, si[keyAcross]
	case heat.Plate:
		p.Thickness, p.Width = thickness, si[keyAcross]
	case heat.Flat:
		p.Height, p.Width = thickness, si[keyAcross]
	default:
		p.Diameter = thickness
	}
	return p
}
