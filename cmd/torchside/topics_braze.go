package main

import (
	"errors"
	"strings"

	"torchside/calc/braze"
	"torchside/calc/heat"
	"torchside/calc/units"
)

type brazeQuestion struct {
	Process      braze.Process `json:"process,omitempty"`
	Metal        heat.Metal    `json:"metal"`
	OtherMetal   heat.Metal    `json:"other_metal,omitempty"`
	Filler       string        `json:"filler,omitempty"`
	Joint        braze.Joint   `json:"joint,omitempty"`
	ThicknessM   float64       `json:"thickness_m"`
	LengthM      *float64      `json:"length_m,omitempty"`
	DiameterM    *float64      `json:"diameter_m,omitempty"`
	OverlapM     *float64      `json:"overlap_m,omitempty"`
	ClearanceM   *float64      `json:"clearance_m,omitempty"`
	LegM         *float64      `json:"leg_m,omitempty"`
	Count        *int          `json:"count,omitempty"`
	RodDiameterM *float64      `json:"rod_diameter_m,omitempty"`
	ShopK        *float64      `json:"shop_k,omitempty"`
}

// kelvinRange is a range of temperature.
type kelvinRange struct {
	Low  float64 `json:"low"`
	High float64 `json:"high"`
}

type brazeFiller struct {
	Class   string      `json:"class"`
	Family  string      `json:"family"`
	MeltsK  kelvinRange `json:"melts_k"`
	WorksK  kelvinRange `json:"works_k"`
	Zinc    bool        `json:"zinc"`
	Cadmium bool        `json:"cadmium"`
	Lead    bool        `json:"lead"`
	Source  string      `json:"source"`
}

type brazeFlux struct {
	Name     string       `json:"name"`
	ActiveK  *kelvinRange `json:"active_k"`
	Fluoride bool         `json:"fluoride"`
	After    string       `json:"after"`
	Source   string       `json:"source"`
}

type brazeFlame struct {
	Flame  string      `json:"flame"`
	Why    string      `json:"why"`
	ConeM  *units.Band `json:"cone_m"`
	Source string      `json:"source"`
}

type brazeShade struct {
	Minimum         int    `json:"minimum"`
	RecommendedLow  int    `json:"recommended_low"`
	RecommendedHigh int    `json:"recommended_high"`
	Source          string `json:"source"`
	Reason          string `json:"reason,omitempty"`
}

type brazeStep struct {
	Step   string `json:"step"`
	Text   string `json:"text"`
	Source string `json:"source"`
}

type brazeUsed struct {
	JointM3      float64    `json:"joint_m3"`
	FillerM3     units.Band `json:"filler_m3"`
	FillerKg     units.Band `json:"filler_kg"`
	RodM         units.Band `json:"rod_m"`
	RodDiameterM float64    `json:"rod_diameter_m"`
	FluxKg       units.Band `json:"flux_kg"`
	FillerSource string     `json:"filler_source"`
	FluxSource   string     `json:"flux_source"`
}

type brazeAnswer struct {
	Notes           []noteOut     `json:"notes"`
	Filler          brazeFiller   `json:"filler"`
	Fillers         []brazeFiller `json:"fillers"`
	FillersWhy      string        `json:"fillers_why"`
	Cadmium         []string      `json:"cadmium"`
	Flux            brazeFlux     `json:"flux"`
	HeatToK         kelvinRange   `json:"heat_to_k"`
	ClearanceM      *units.Band   `json:"clearance_m"`
	ClearanceSource string        `json:"clearance_source"`
	GapChangeM      float64       `json:"gap_change_m"`
	OverlapM        float64       `json:"overlap_m"`
	StrongOverlapM  float64       `json:"strong_overlap_m"`
	LegM            float64       `json:"leg_m"`
	Flame           brazeFlame    `json:"flame"`
	Steps           []brazeStep   `json:"steps"`
	Shade           brazeShade    `json:"shade"`
	Used            *brazeUsed    `json:"used"`
}

// input refuses the zeros that package braze takes for a missing field.
func (q brazeQuestion) input() (braze.Input, error) {
	in := braze.Input{Process: q.Process, Metal: q.Metal, Other: q.OtherMetal, Filler: q.Filler, Joint: q.Joint, Thinner: units.Length(q.ThicknessM)}
	for _, o := range []struct {
		field string
		given *float64
		into  *units.Length
	}{
		{"length_m", q.LengthM, &in.Length}, {"diameter_m", q.DiameterM, &in.Diameter}, {"overlap_m", q.OverlapM, &in.Overlap},
		{"clearance_m", q.ClearanceM, &in.Gap}, {"leg_m", q.LegM, &in.Leg}, {"rod_diameter_m", q.RodDiameterM, &in.Rod},
	} {
		if o.given == nil {
			continue
		}
		if *o.given == 0 {
			return in, fieldError{o.field, "read 0; allowed is more than 0: leave it out to take what is usual"}
		}
		*o.into = units.Length(*o.given)
	}
	if q.Count != nil {
		if in.Count = *q.Count; in.Count < 1 {
			return in, fieldError{"count", "read " + exactly(float64(in.Count)) + "; allowed is 1 or more joints"}
		}
	}
	if q.ShopK != nil {
		if in.Shop = units.Temperature(*q.ShopK); in.Shop == 0 {
			return in, fieldError{"shop_k", "read 0; allowed is 253.15 to 323.15 K"}
		}
	}
	return in, nil
}

func answerBraze(q brazeQuestion) (any, error) {
	in, err := q.input()
	if err != nil {
		return nil, err
	}
	r, err := braze.Compute(in)
	if err != nil {
		return nil, brazeError(err)
	}
	a := brazeAnswer{Notes: []noteOut{}, Filler: fillerOut(r.Filler), Fillers: []brazeFiller{}, FillersWhy: r.Why + " (" + r.Source + ")", Cadmium: append([]string{}, r.Cadmium...),
		Flux: brazeFlux{Name: r.Flux.Name, Fluoride: r.Flux.Fluoride, After: r.Flux.After, Source: markedMemory(r.Flux.Source, r.Flux.FromMemory)}, HeatToK: kelvinRange(r.HeatTo),
		ClearanceSource: markedMemory(r.GapSource, r.GapFromMemory), GapChangeM: r.Closes, OverlapM: float64(r.Overlap), StrongOverlapM: float64(r.Strong), LegM: float64(r.Leg),
		Flame: brazeFlame{r.Flame.Word, r.Flame.Why, r.Flame.Cone, markedMemory(r.Flame.Source, r.Flame.FromMemory)}, Steps: []brazeStep{},
		Shade: brazeShade{r.Shade.Minimum, r.Shade.Low, r.Shade.High, r.Shade.Source, r.Shade.Reason}, Used: usedOut(r.Used)}
	for _, n := range r.Notes {
		a.Notes = append(a.Notes, noteOut{n.Code, n.Text, markedMemory(n.Source, n.FromMemory)})
	}
	for _, f := range r.Fillers {
		a.Fillers = append(a.Fillers, fillerOut(f))
	}
	for _, s := range r.Steps {
		a.Steps = append(a.Steps, brazeStep{s.Name, s.Text, markedMemory(s.Source, s.FromMemory)})
	}
	if r.Gap.High > 0 {
		a.ClearanceM = &r.Gap
	}
	if r.Flux.Active.High > 0 {
		active := kelvinRange(r.Flux.Active)
		a.Flux.ActiveK = &active
	}
	return a, nil
}

func fillerOut(f braze.Filler) brazeFiller {
	return brazeFiller{f.Class, string(f.Family), kelvinRange(f.Melts()), kelvinRange(f.Works()), f.Zinc, f.Cadmium, f.Lead, markedMemory(f.Source(), f.FromMemory)}
}

func usedOut(u *braze.Used) *brazeUsed {
	if u == nil {
		return nil
	}
	return &brazeUsed{u.Joint, u.Volume, u.Mass, u.Rod, float64(u.RodDiameter), u.Flux, u.Source, markedMemory(u.FluxSource, u.FluxFromMemory)}
}

// brazeError puts a refusal on its field.
func brazeError(err error) error {
	var no *braze.Refusal
	if !errors.As(err, &no) {
		return err
	}
	text := "read " + no.Read + "; allowed is " + no.Allowed + ": " + strings.Join(append([]string{no.Why}, no.WaysOut...), "; ")
	if no.Source != "" {
		text += " (" + no.Source + ")"
	}
	return fieldError{no.Field, text}
}

const helpBraze = `braze: filler, flux, gap, flame, order of work, and rod and flux for a joint that is brazed, braze-welded or soldered

in   process         optional, braze when missing; braze_weld or solder
     metal           of one part: mild_steel, medium_carbon_steel, galvanised_steel, stainless_steel, cast_iron, copper, brass, aluminium
     other_metal     optional, of the other part; the same when missing
     filler          optional, a class as BAg-7, BCuP-5, RBCuZn-A, BAlSi-4, 50-50 (tin and lead) or 95-5 (tin and antimony); chosen when missing
     joint           optional, lap when missing; socket, butt, tee, corner or edge
     thickness_m     of the thinner part, 0.0002 to 0.025
     length_m        optional, of one seam; without it (or diameter_m of a socket) no rod and flux are worked out
     diameter_m      of the tube in a socket, outside
     overlap_m       optional, of a lap, socket or edge; three times thickness_m when missing
     clearance_m     optional, the gap between the cold parts; the middle of what the filler wants when missing
     leg_m           optional, of a braze-welded fillet; thickness_m when missing
     count           optional, joints alike; 1 when missing
     rod_diameter_m  optional; 1/16 in, for a braze weld 3/32 in, for solder 1/8 in when missing
     shop_k          optional, of the cold parts; 293.15 when missing
out  notes [ {code, text, source} ]  what makes ill first
     filler {class, family, melts_k {low, high}, works_k {low, high}, zinc, cadmium, lead, source}  asked for, or the best
     fillers         all that suit, the best first, and fillers_why; none of them holds cadmium
     cadmium         classes of the same family that do: never proposed
     flux {name, active_k {low, high} or null, fluoride, after, source}
     heat_to_k {low, high}     what the joint is brought to
     clearance_m {value, low, high, reason}  what the filler wants, null for a braze weld; clearance_source
     gap_change_m    how much the gap of a socket of two metals narrows or opens when hot
     overlap_m       taken; strong_overlap_m for a joint as strong as the parts, 0 for joints without
     leg_m           of a braze-welded fillet, else 0
     flame {flame, why, cone_m {value, low, high, reason} or null, source}  cone_m from the cone to the work
     steps [ {step, text, source} ]  clean, fit, flux, heat, feed, after
     shade {minimum, recommended_low, recommended_high, source, reason}
     used            null without the seam: {joint_m3, filler_m3, filler_kg, rod_m, rod_diameter_m, flux_kg, filler_source, flux_source}

A band is {value, low, high, reason}. Refused with the reason: a filler that flows only when a part melts, copper-phosphorus on iron, zinc
coatings, aluminium to another metal, and what its source does not name.

A rounded example: {"metal":"mild_steel","other_metal":"copper","joint":"lap","thickness_m":0.003,"length_m":0.04}
`
