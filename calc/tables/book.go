package tables

import (
	"encoding/json"
	"fmt"
)

// Book is all tables.
type Book struct {
	Tables  []Table  `json:"tables"`
	Sources []string `json:"sources"` // named by the values by their place in this list
}

// Table is one table.
type Table struct {
	ID      string  `json:"id"` // for an address
	Title   string  `json:"title"`
	About   string  `json:"about,omitempty"`   // what to know before using it
	Caution string  `json:"caution,omitempty"` // read before the first value
	Source  string  `json:"source,omitempty"`  // of the caution
	Entries []Entry `json:"entries"`
}

// Entry is one thing looked up, with what each source says of it.
type Entry struct {
	Name   string  `json:"n"`
	Values []Value `json:"v"`
	Differ bool    `json:"d,omitempty"` // the sources disagree: the safer stands first
	// Swatches of a colour, as #rrggbb: in dim light, and in daylight; a colour that is the same in both has the first alone.
	Dim string `json:"a,omitempty"`
	Day string `json:"b,omitempty"`
}

// Value is what one source says. A quantity stands in both systems of units, as units.System.Say reads them.
type Value struct {
	Text   string `json:"x"`
	When   string `json:"c,omitempty"` // under which condition
	Source int    `json:"s"`
	Trust  Trust  `json:"t"`
	Note   string `json:"m,omitempty"`
}

// Trust tells how far a value is to be trusted.
type Trust string

// The grades of trust.
const (
	Read       Trust = "A" // read in the standard, manual or reference data, or in a copy of it
	SecondHand Trust = "B" // read, but in a weak, old, scanned or second-hand text
	Memory     Trust = "C" // from memory: it may make advice stricter, and never permits
	Computed   Trust = "D" // worked out from stated inputs
)

// Words says the trust for a person; a grade that is not known counts as the weakest.
func (t Trust) Words() string {
	switch t {
	case Read:
		return "read in the source"
	case SecondHand:
		return "read in an old or second-hand text"
	case Computed:
		return "computed"
	}
	return "from memory, not checked"
}

// IsMemory reports whether nobody has checked the value against its source.
func (t Trust) IsMemory() bool { return t != Read && t != SecondHand && t != Computed }

// Parse reads the file of tables. It refuses one that is not whole: a source that is not in the list, an entry without a value.
func Parse(file []byte) (Book, error) {
	var b Book
	if err := json.Unmarshal(file, &b); err != nil {
		return Book{}, fmt.Errorf("the file of tables cannot be read: %w", err)
	}
	if len(b.Tables) == 0 {
		return Book{}, fmt.Errorf("the file of tables holds none")
	}
	for _, t := range b.Tables {
		for _, e := range t.Entries {
			if e.Name == "" || len(e.Values) == 0 {
				return Book{}, fmt.Errorf("the table %q has an entry without a name or value", t.ID)
			}
			for _, v := range e.Values {
				if v.Text == "" || v.Source < 0 || v.Source >= len(b.Sources) {
					return Book{}, fmt.Errorf("%s, %q: a value without text or source", t.ID, e.Name)
				}
			}
		}
	}
	return b, nil
}

// Table finds a table by its id.
func (b Book) Table(id string) (Table, bool) {
	for _, t := range b.Tables {
		if t.ID == id {
			return t, true
		}
	}
	return Table{}, false
}
