package main

import (
	"torchside/calc/heat"
	"torchside/calc/units"
)

type preheatQuestion struct {
	ThicknessM float64 `json:"thickness_m"`
	CPercent   float64 `json:"c_percent"`
	MnPercent  float64 `json:"mn_percent,omitempty"`
	SiPercent  float64 `json:"si_percent,omitempty"`
	CrPercent  float64 `json:"cr_percent,omitempty"`
	MoPercent  float64 `json:"mo_percent,omitempty"`
	VPercent   float64 `json:"v_percent,omitempty"`
	NiPercent  float64 `json:"ni_percent,omitempty"`
	CuPercent  float64 `json:"cu_percent,omitempty"`
	BPercent   float64 `json:"b_percent,omitempty"`
}

type preheatAnswer struct {
	Notes       []noteOut `json:"notes"`
	LowestK     *float64  `json:"lowest_k"`
	CeIIW       float64   `json:"ce_iiw"`
	CeD11       float64   `json:"ce_d1_1"`
	Pcm         float64   `json:"pcm"`
	Weldability string    `json:"weldability"`
	Source      string    `json:"source"`
}

func answerPreheat(q preheatQuestion) (any, error) {
	steel := heat.Steel{C: q.CPercent, Mn: q.MnPercent, Si: q.SiPercent, Cr: q.CrPercent, Mo: q.MoPercent, V: q.VPercent, Ni: q.NiPercent, Cu: q.CuPercent, B: q.BPercent}
	p, err := steel.Preheat(units.Length(q.ThicknessM))
	if err != nil {
		return nil, err
	}
	a := preheatAnswer{CeIIW: p.Equivalent.IIW, CeD11: p.Equivalent.D11, Pcm: p.Equivalent.Pcm, Weldability: p.Equivalent.Weldability(),
		Source: markedMemory(p.Source, p.FromMemory), Notes: []noteOut{}}
	if p.Lowest > 0 {
		k := float64(p.Lowest)
		a.LowestK = &k
	}
	for _, n := range p.Notes {
		a.Notes = append(a.Notes, noteOut{n.Code, n.Text, markedMemory(n.Source, n.FromMemory)})
	}
	return a, nil
}

const helpPreheat = `preheat: carbon equivalents of a steel, and its lowest temperature before and between passes

in   thickness_m      of the thicker part
     c_percent        carbon, per cent of mass
     mn_percent, si_percent, cr_percent, mo_percent, v_percent, ni_percent, cu_percent, b_percent   optional, 0 when missing
out  notes [ {code, text, source} ]   read them first
     lowest_k         preheat and interpass, or null: none is asked for
     ce_iiw           C + Mn/6 + (Cr+Mo+V)/5 + (Ni+Cu)/15   (IIW IX-535-67, EN 1011-2)
     ce_d1_1          the same and Si/6                     (AWS D1.1 Annex)
     pcm              C + Si/30 + Mn/20 + Cu/20 + Ni/60 + Cr/20 + Mo/15 + V/10 + 5 B   (API 5L 6.1.3.1)
     weldability      a shop guide's word for ce_iiw, for arc welding
     source           of lowest_k; rules from memory only raise what the table asks

A rounded example: {"thickness_m":0.025,"c_percent":0.45,"mn_percent":0.75}
`
