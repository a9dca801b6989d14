package journal

import (
	"cmp"
	"encoding/json"
)

// Brief is what a row of the list, the trends and the answers need of a sheet, so that the sheets themselves need not be read.
// It is kept beside the index as small JSON.
type Brief struct {
	At       string   `json:"at,omitempty"`
	Draft    bool     `json:"draft,omitempty"`
	Sample   bool     `json:"sample,omitempty"`
	Title    string   `json:"title,omitempty"`
	Work     string   `json:"work,omitempty"`
	Metal    string   `json:"metal,omitempty"`
	Joint    string   `json:"joint,omitempty"`
	Position string   `json:"pos,omitempty"`
	Drill    string   `json:"drill,omitempty"`
	Thick    *float64 `json:"t,omitempty"` // m
	Tip      string   `json:"tip,omitempty"`
	Fuel     string   `json:"fuel,omitempty"`
	OxygenPa *float64 `json:"op,omitempty"` // gauge
	FuelPa   *float64 `json:"fp,omitempty"` // gauge
	Ratio    *float64 `json:"ratio,omitempty"`
	Flame    string   `json:"flame,omitempty"`
	Filler   string   `json:"filler,omitempty"`
	FillerD  *float64 `json:"fd,omitempty"`     // m
	Speed    *float64 `json:"v,omitempty"`      // m/s
	Gas      *float64 `json:"gas,omitempty"`    // oxygen and fuel, m³; only when both were noted
	Seconds  *float64 `json:"s,omitempty"`      // time taken
	Overall  *float64 `json:"o,omitempty"`      // 0 to MaxScore
	Scored   int      `json:"n,omitempty"`      // scores given
	Test     string   `json:"test,omitempty"`   // "pass", "fail" or none
	Photos   int      `json:"photos,omitempty"` // count
	Thumb    string   `json:"thumb,omitempty"`  // hash of the first photo's thumbnail
	Draw     *Drawing `json:"draw,omitempty"`   // of the first photo, if it is drawn
	Next     string   `json:"next,omitempty"`   // beginning of what to try next
}

// maxBriefText is how much of a text a row shows, characters.
const maxBriefText = 80

// BriefOf sums up a sheet.
func BriefOf(s Sheet) Brief {
	b := Brief{At: s.At, Draft: !s.Finished, Sample: s.Sample, Title: cut(s.Title), Work: s.Work, Metal: s.Metal, Joint: s.Joint, Position: s.Position,
		Drill: s.Drill, Thick: s.ThicknessM, Tip: cut(s.Tip), Fuel: s.Fuel, OxygenPa: s.OxygenGaugePa, FuelPa: s.FuelGaugePa, Ratio: s.Ratio, Flame: s.Flame,
		Filler: cut(s.Filler), FillerD: s.FillerDiameterM, Seconds: s.DurationS, Photos: len(s.Photos), Next: cut(s.Next)}
	if v, ok := s.TravelSpeed(); ok {
		b.Speed = &v
	}
	if v, both, _ := s.GasUsed(); both {
		b.Gas = &v
	}
	o := s.Overall()
	if b.Scored = o.Scored; o.Known {
		b.Overall = &o.Value
	}
	if len(s.Photos) > 0 {
		b.Thumb, b.Draw = s.Photos[0].ThumbHash, s.Photos[0].Draw
	}
	switch {
	case s.failed():
		b.Test = "fail"
	case s.passed():
		b.Test = "pass"
	}
	return b
}

// ReadBrief reads what [Index] made.
func ReadBrief(data []byte) (Brief, error) {
	var b Brief
	err := json.Unmarshal(data, &b)
	return b, err
}

// cut is the beginning of a text.
func cut(text string) string {
	r := []rune(text)
	if len(r) <= maxBriefText {
		return text
	}
	return string(r[:maxBriefText-1]) + "…"
}

// compareTimes orders two RFC 3339 texts by instant; a text that is none comes first.
func compareTimes(a, b string) int {
	x, okX := readTime(a)
	y, okY := readTime(b)
	switch {
	case okX && okY:
		return cmp.Compare(x.milli, y.milli)
	case okX:
		return 1
	case okY:
		return -1
	}
	return cmp.Compare(a, b)
}
