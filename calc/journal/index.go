package journal

import (
	"slices"
	"strconv"
)

// Prefixes of terms. A filter term is a name, "=" and a value; a word of the full text begins with WordTerm, which no filter
// name does.
const (
	WordTerm = "~"
	termYes  = "yes"
)

// IndexVersion goes up with every change of what [Index] gives for a sheet: a store then makes its entries anew.
const IndexVersion = 2

// Index gives what a store keeps beside a record to find it again: a sort key, the terms, and the brief. A sheet sorts by its
// instant in UTC; one without a time comes before all others. Own drills have a sort key alone. A body that cannot be read,
// and any other kind, has none of it.
func Index(kind string, body []byte) (sort string, terms []string, brief []byte) {
	if kind != Kind {
		return "", nil, nil
	}
	s, err := Read(body)
	if err != nil {
		return "", nil, nil
	}
	brief, err = encode(BriefOf(s))
	if err != nil { // a number that JSON cannot write came from nowhere: Read gives none
		return "", nil, nil
	}
	return SortKey(s.At), s.Terms(), brief
}

// SortKey is a time as text whose order is that of the instants, in UTC to the millisecond; "" for a text that is no time.
func SortKey(at string) string {
	t, ok := readTime(at)
	if !ok {
		return ""
	}
	days := floorDiv(t.milli, 86400e3)
	year, month, day := civilFromDays(int(days))
	if year < 0 || year > 9999 {
		return "" // the offset carried it out of four digits
	}
	rest := int(t.milli - days*86400e3)
	return pad(year, 4) + "-" + pad(month, 2) + "-" + pad(day, 2) + "T" + pad(rest/3600000, 2) + ":" + pad(rest/60000%60, 2) + ":" +
		pad(rest/1000%60, 2) + "." + pad(rest%1000, 3) + "Z"
}

// Terms are all terms of the sheet, sorted, each once.
func (s Sheet) Terms() []string {
	list := s.filterTerms()
	for _, text := range s.texts() {
		for _, w := range Words(text) {
			list = append(list, WordTerm+w)
		}
	}
	return sortedOnce(list)
}

// texts are what the full-text search looks into: everything written, and the names of the words chosen.
func (s Sheet) texts() []string {
	list := []string{s.Title, s.Place, s.Tip, s.Filler, s.Flux, s.Wrong, s.Next, s.Note, Name(s.Work), Name(s.Metal), Name(s.Joint), Name(s.Position),
		Name(s.Flame), DrillName(s.Drill)}
	for _, p := range s.Photos {
		list = append(list, p.Caption, p.Name)
	}
	for _, t := range s.Tests {
		list = append(list, t.Seen)
	}
	for _, text := range s.Typed {
		list = append(list, text)
	}
	return list
}

// DrillName is the name of a drill of the path; "" for an own one, which only its record knows.
func DrillName(id string) string {
	d, _ := DrillByID(id)
	return d.Name
}

func (s Sheet) filterTerms() []string {
	f := Filter{Work: s.Work, Metal: s.Metal, Joint: s.Joint, Position: s.Position, Class: ClassOf(s.ThicknessM), Tip: s.Tip, Drill: s.Drill}
	b := BriefOf(s)
	if t, ok := readTime(s.At); ok {
		f.Month = pad(t.year, 4) + "-" + pad(t.month, 2)
	}
	f.Score, f.Test = ScoreClass(b.Overall), b.Test
	f.Photo, f.Draft, f.Sample = b.Photos > 0, b.Draft, b.Sample
	return f.Terms()
}

// Filter is a choice of sheets; empty fields do not choose. All that are set must hold.
type Filter struct {
	Work, Metal, Joint, Position string
	Class                        string // of ClassOf
	Tip, Drill                   string
	Score                        string // of ScoreClass
	Month                        string // "2026-05", by the date of the place
	Test                         string // "pass" or "fail"
	Photo, Draft, Sample         bool   // only sheets with a photo, drafts, sheets of the sample
}

// IsZero reports whether the filter chooses nothing.
func (f Filter) IsZero() bool { return f == Filter{} }

// Terms are the terms a sheet must have, all of them.
func (f Filter) Terms() []string {
	var list []string
	for _, t := range []struct{ name, value string }{{"work", f.Work}, {"metal", f.Metal}, {"joint", f.Joint}, {"position", f.Position}, {"class", f.Class},
		{"tip", foldTip(f.Tip)}, {"drill", f.Drill}, {"score", f.Score}, {"month", f.Month}, {"test", f.Test}} {
		if t.value != "" {
			list = append(list, t.name+"="+t.value)
		}
	}
	for _, t := range []struct {
		name string
		on   bool
	}{{"photo", f.Photo}, {"draft", f.Draft}, {"sample", f.Sample}} {
		if t.on {
			list = append(list, t.name+"="+termYes)
		}
	}
	return list
}

// foldTip makes "No. 2" and "no 2" the same tip.
func foldTip(tip string) string {
	text := ""
	for i, w := range Words(tip) {
		if i > 0 {
			text += " "
		}
		text += w
	}
	return text
}

// Query is a filter and a typed text as a store can look them up: all terms, and one term that is only begun.
type Query struct {
	Terms  []string // sorted; a sheet must have all
	Prefix string   // and one that begins so; "" asks nothing
}

// Ask makes a query. Every word typed must be in the sheet; the last one may be a beginning, unless something follows it.
func Ask(f Filter, text string) Query {
	q := Query{Terms: f.Terms()}
	words, open := split(text)
	if open != "" {
		// The word begun is the beginning of some word even when it was typed before as a whole one.
		q.Prefix = WordTerm + open
		words = slices.DeleteFunc(words, func(w string) bool { return w == open })
	}
	for _, w := range words {
		q.Terms = append(q.Terms, WordTerm+w)
	}
	q.Terms = sortedOnce(q.Terms)
	return q
}

// Matches reports whether a record with these sorted terms answers the query. A store's index gives the same.
func (q Query) Matches(terms []string) bool {
	for _, t := range q.Terms {
		if _, ok := slices.BinarySearch(terms, t); !ok {
			return false
		}
	}
	if q.Prefix == "" {
		return true
	}
	i, _ := slices.BinarySearch(terms, q.Prefix)
	return i < len(terms) && len(terms[i]) >= len(q.Prefix) && terms[i][:len(q.Prefix)] == q.Prefix
}

// ScoreClass is the whole number below an overall score, as a filter has it: "0" to "4"; "none" without one.
func ScoreClass(overall *float64) string {
	if overall == nil {
		return "none"
	}
	return strconv.Itoa(int(min(max(*overall, 0), MaxScore)))
}
