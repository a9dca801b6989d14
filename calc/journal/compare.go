package journal

import (
	"slices"
	"strconv"
	"strings"

	"torchside/calc/words"
)

// Difference is one line of two sheets side by side.
type Difference struct {
	Field    string // JSON name; "scores.ripple" for a score
	Name     string
	Quantity string // of a number: see Number
	A, B     string // words; "" was not noted. Numbers have none
	NumA     *float64
	NumB     *float64
	Same     bool
	// Change is B less A of two numbers, Relative the same as a share of A; only when both are there (and A is not 0).
	Change, Relative *float64
}

// Compare sets two sheets side by side: one line for every field that either of them has, the same ones marked.
func Compare(a, b Sheet) []Difference {
	var list []Difference
	said := func(field, name, x, y string) {
		if x != "" || y != "" {
			list = append(list, Difference{Field: field, Name: name, A: x, B: y, Same: x == y})
		}
	}
	said("at", "Time", a.At, b.At)
	said("title", "Title", a.Title, b.Title)
	said("work", "Work", Name(a.Work), Name(b.Work))
	said("metal", "Metal", Name(a.Metal), Name(b.Metal))
	said("joint", "Joint", Name(a.Joint), Name(b.Joint))
	said("position", "Position", Name(a.Position), Name(b.Position))
	said("drill", "Drill", a.Drill, b.Drill)
	said("tip", "Tip", a.Tip, b.Tip)
	said("fuel", "Fuel", a.Fuel, b.Fuel)
	said("flame", "Flame by eye", Name(a.Flame), Name(b.Flame))
	said("filler", "Filler", a.Filler, b.Filler)
	said("flux", "Flux", a.Flux, b.Flux)
	list = append(list, compareNumbers(a, b)...)
	list = append(list, compareScores(a, b)...)
	said("tests", "Tests", testWords(a), testWords(b))
	said("photos", "Photos", photoWords(a), photoWords(b))
	said("place", "Place", a.Place, b.Place)
	said("wrong", "What was wrong", a.Wrong, b.Wrong)
	said("next", "Try next", a.Next, b.Next)
	said("note", "Note", a.Note, b.Note)
	return list
}

func compareNumbers(a, b Sheet) []Difference {
	var list []Difference
	add := func(field, name, quantity string, x, y *float64) {
		if x != nil || y != nil {
			list = append(list, numberDifference(field, name, quantity, x, y))
		}
	}
	for _, n := range a.numbers() {
		add(n.Field, n.Name, n.Quantity, n.value, b.Number(n.Field))
	}
	add("travel_speed", "Travel speed", "speed", speedOf(a), speedOf(b))
	return list
}

func numberDifference(field, name, quantity string, x, y *float64) Difference {
	d := Difference{Field: field, Name: name, Quantity: quantity, NumA: x, NumB: y}
	if x == nil || y == nil {
		return d
	}
	change := *y - *x
	d.Change, d.Same = &change, change == 0
	if *x != 0 {
		share := change / *x
		d.Relative = &share
	}
	return d
}

func speedOf(s Sheet) *float64 {
	if v, ok := s.TravelSpeed(); ok {
		return &v
	}
	return nil
}

// compareScores goes through the set of the first sheet's work, then through what only the second's has, then the overall scores.
func compareScores(a, b Sheet) []Difference {
	var list []Difference
	seen := map[string]bool{}
	for _, s := range append(ScoresFor(a.Work), ScoresFor(b.Work)...) {
		x, y := scoreOf(a, s.ID), scoreOf(b, s.ID)
		if !seen[s.ID] && (x != nil || y != nil) {
			list = append(list, numberDifference("scores."+s.ID, s.Name, "score", x, y))
		}
		seen[s.ID] = true
	}
	x, y := BriefOf(a).Overall, BriefOf(b).Overall
	if x != nil || y != nil {
		list = append(list, numberDifference("overall", "Overall", "score", x, y))
	}
	return list
}

func scoreOf(s Sheet, id string) *float64 {
	v, ok := s.Scores[id]
	if !ok {
		return nil
	}
	f := float64(v)
	return &f
}

func testWords(s Sheet) string {
	var list []string
	for _, t := range s.Tests {
		text := words.S("%s: failed", Name(t.Test))
		if t.Pass {
			text = words.S("%s: passed", Name(t.Test))
		}
		if t.Seen != "" {
			text += " (" + t.Seen + ")"
		}
		list = append(list, text)
	}
	return words.Join(list, "; ")
}

// photoWords counts the photos by what they show.
func photoWords(s Sheet) string {
	counts := map[string]int{}
	for _, p := range s.Photos {
		counts[p.Role]++
	}
	var list []string
	for _, r := range append(slices.Clone(roles), Word{"", "Photo"}) {
		if n := counts[r.ID]; n > 0 {
			list = append(list, strconv.Itoa(n)+" × "+strings.ToLower(r.Name))
		}
	}
	return words.Join(list, ", ")
}
