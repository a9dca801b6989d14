package journal

import (
	"strconv"
	"strings"

	"torchside/calc/words"
)

// Text is one sheet as plain text to hand on. write puts a number into the owner's units; nil writes it in SI. Photos are only
// counted: they are handed over as files.
func Text(s Sheet, write func(n Number, si float64) string) string {
	if write == nil {
		write = func(n Number, si float64) string { return strings.TrimSpace(number(si) + " " + n.Unit) }
	}
	var b strings.Builder
	line := func(name, text string) {
		if text != "" {
			b.WriteString(name + ": " + text + "\n")
		}
	}
	if s.Title != "" {
		b.WriteString(s.Title + "\n")
	}
	if s.Sample {
		b.WriteString(words.T("Sample sheet: invented\n"))
	}
	line("Time", s.At)
	line("Place", s.Place)
	line("Drill", drillText(s.Drill))
	for _, w := range []struct{ name, text string }{{"Work", Name(s.Work)}, {"Metal", Name(s.Metal)}, {"Joint", Name(s.Joint)}, {"Position", positionText(s)},
		{"Tip", s.Tip}, {"Fuel", s.Fuel}, {"Flame by eye", Name(s.Flame)}, {"Filler", s.Filler}, {"Flux", s.Flux}} {
		line(w.name, w.text)
	}
	for _, n := range s.numbers() {
		if n.value != nil {
			line(n.Name, write(n, *n.value))
		}
	}
	if v, ok := s.TravelSpeed(); ok {
		line("Travel speed", write(Number{Field: "travel_speed", Name: "Travel speed", Quantity: "speed", Unit: "m/s"}, v))
	}
	scoreLines(s, line)
	line("Tests", testWords(s))
	line("What was wrong", s.Wrong)
	line("Try next", s.Next)
	line("Note", s.Note)
	if n := len(s.Photos); n > 0 {
		line("Photos", photoWords(s))
	}
	return b.String()
}

// scoreLines writes the overall score, each score with the words of its step, and what was left out.
func scoreLines(s Sheet, line func(name, text string)) {
	o := s.Overall()
	if o.Scored == 0 {
		return
	}
	line("Overall", o.Words())
	for _, score := range ScoresFor(s.Work) {
		if v, ok := s.Scores[score.ID]; ok && v >= 0 && v <= MaxScore {
			line("  "+score.Name, strconv.Itoa(v)+" ("+score.Steps[v]+")")
		}
	}
	line("  Not scored", words.Join(o.Skipped, ", "))
}

func positionText(s Sheet) string {
	for _, p := range positions {
		if p.ID != s.Position {
			continue
		}
		if code := p.Code(s.Joint); code != "" {
			return p.Name + " (" + code + ")"
		}
		return p.Name
	}
	return s.Position
}

func drillText(id string) string {
	if name := DrillName(id); name != "" {
		return name
	}
	return id
}
