// Package journaltest makes journals of any length for tests and benchmarks: the same numbers in, the same sheets out.
package journaltest

import (
	"fmt"
	"math/rand"

	"torchside/calc/journal"
)

// Sheets makes n finished sheets that end at 2026-06-01, two a day backwards, the oldest first. They are like those of a busy
// person: all works, metals and joints, scores that get slowly better, notes from a small vocabulary, some with photos.
func Sheets(n int, seed int64) []journal.Sheet {
	r := rand.New(rand.NewSource(seed))
	list := make([]journal.Sheet, n)
	for i := range list {
		list[i] = sheet(r, n-1-i, float64(i+1)/float64(n))
	}
	return list
}

// vocabulary is what the notes are made of; the last ones try the folding of letters.
var vocabulary = []string{"puddle", "wide", "narrow", "rod", "stuck", "gate", "hinge", "strap", "bracket", "edge", "cold", "fast", "slow", "angle", "hammer",
	"straight", "gap", "tack", "root", "flux", "scale", "clean", "oil", "wind", "glove", "naïve", "größer", "żelazo", "حديد", "鉄", "🔥", "3,2", "1/8"}

func sheet(r *rand.Rand, age int, skill float64) journal.Sheet {
	day := age / 2
	year, month, dom := 2026-day/336, 12-(day/28)%12, 28-day%28 // months of 28 days: any valid date will do
	s := journal.Sheet{At: fmt.Sprintf("%04d-%02d-%02dT%02d:%02d:00+01:00", year, month, dom, 18-4*(age%2), r.Intn(60)), Finished: true,
		Work: pick(r, journal.Works()), Metal: pick(r, journal.Metals()), Joint: pick(r, journal.Joints()),
		Position: journal.Positions()[r.Intn(5)].ID, Drill: journal.Drills()[r.Intn(17)].ID, Flame: "neutral", Fuel: "acetylene",
		Tip: fmt.Sprintf("TEST %d", 1+r.Intn(6)), Filler: "RG45", Title: words(r, 3), Note: words(r, 30), Next: words(r, 6)}
	s = s.WithNumber("thickness_m", near(r, []float64{0.0008, 0.0016, 0.002, 0.003, 0.006, 0.010}[r.Intn(6)], 0))
	s = s.WithNumber("oxygen_gauge_pa", near(r, 35e3, 0.2)).WithNumber("fuel_gauge_pa", near(r, 35e3, 0.2)).WithNumber("ratio", near(r, 1.1, 0.05))
	s = s.WithNumber("travel_length_m", near(r, 0.1, 0)).WithNumber("travel_s", near(r, 80-30*skill, 0.2)).WithNumber("duration_s", near(r, 900, 0.5))
	s = s.WithNumber("oxygen_used_std_m3", near(r, 0.03, 0.3)).WithNumber("fuel_used_std_m3", near(r, 0.028, 0.3))
	s.Scores = map[string]int{}
	for _, score := range journal.ScoresFor(s.Work) {
		if r.Intn(6) > 0 {
			s.Scores[score.ID] = min(max(int(1.2+2.4*skill+2*r.Float64()-0.5), 0), journal.MaxScore)
		}
	}
	if r.Intn(10) == 0 {
		s.Photos = []journal.Photo{{Role: "after", Hash: hash(r), ThumbHash: hash(r), W: 2048, H: 1536, Bytes: 400000}}
	}
	return s
}

func pick(r *rand.Rand, list []journal.Word) string { return list[r.Intn(len(list))].ID }

func words(r *rand.Rand, n int) string {
	text := ""
	for i := range n {
		if i > 0 {
			text += " "
		}
		text += vocabulary[r.Intn(len(vocabulary))]
	}
	return text
}

// near is a number spread around v by a share.
func near(r *rand.Rand, v, spread float64) *float64 {
	v *= 1 + spread*(2*r.Float64()-1)
	return &v
}

// hash looks like a SHA-256.
func hash(r *rand.Rand) string {
	return fmt.Sprintf("%016x%016x%016x%016x", r.Uint64(), r.Uint64(), r.Uint64(), r.Uint64())
}
