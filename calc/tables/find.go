package tables

import "strings"

// Hit is one entry found: the places of its table and of itself.
type Hit struct{ Table, Entry int }

// Find returns the entries that hold every word of a text, in the order of the book: first those that hold them all in their name,
// then those that have some of them in what their sources say. An empty text finds nothing. Capitals do not matter, nor does which
// side of the Atlantic a word is spelt on.
func (b Book) Find(text string) []Hit {
	words := strings.Fields(fold(text))
	if len(words) == 0 {
		return nil
	}
	var named, other []Hit
	for i, t := range b.Tables {
		title := fold(t.Title)
		for j, e := range t.Entries {
			name := fold(e.Name)
			switch {
			case holdsAll(name, words):
				named = append(named, Hit{i, j})
			case holdsAll(name+" "+title+" "+b.said(e), words):
				other = append(other, Hit{i, j})
			}
		}
	}
	return append(named, other...)
}

// said is everything the sources say of an entry.
func (b Book) said(e Entry) string {
	var all strings.Builder
	for _, v := range e.Values {
		for _, s := range []string{v.Text, v.When, v.Note, b.Sources[v.Source], v.Trust.Words()} {
			all.WriteString(fold(s))
			all.WriteByte(' ')
		}
	}
	return all.String()
}

func holdsAll(text string, words []string) bool {
	for _, w := range words {
		if !strings.Contains(text, w) {
			return false
		}
	}
	return true
}

// spellings are folded to one of two; signs that nobody types are taken away.
var spellings = strings.NewReplacer(
	"color", "colour", "aluminum", "aluminium", "gray", "grey", "galvanized", "galvanised", "carburising", "carburizing", "oxidising", "oxidizing",
	"\u00a0", " ", "³", "3", "²", "2", "°", "", "−", "-", "“", "", "”", "")

func fold(s string) string { return spellings.Replace(strings.ToLower(s)) }
