package state

import "torchside/calc/tables"

// TablesFile is the address of the book of bench tables; it is read when the page is first shown.
const TablesFile = "/web/tables.json"

// Tables is the page of bench tables: the list of tables, one of them, or what a search found.
type Tables struct {
	Book  tables.Book
	Known bool   // the book is read
	Error string // why it is not
	Text  string // the search, as typed
	Open  string // id of the open table; "" for none
	Found []tables.Hit
	More  bool // all that was found is shown, not only the first
	asked bool
}

// Messages of the page of tables.
type (
	// TablesAsked comes when the page is shown: the book is then read, once.
	TablesAsked struct{}
	// TablesTyped is a search over all tables.
	TablesTyped struct{ Text string }
	// TableOpened shows one table.
	TableOpened struct{ ID string }
	// TablesClosed goes back to the list of tables.
	TablesClosed struct{}
	// TablesMore shows all that was found.
	TablesMore struct{}
)

func (TablesAsked) msg()  {}
func (TablesTyped) msg()  {}
func (TableOpened) msg()  {}
func (TablesClosed) msg() {}
func (TablesMore) msg()   {}

func reduceTables(a App, m Msg) (App, []Effect, bool) {
	t := &a.Tables
	switch m := m.(type) {
	case TablesAsked:
		if t.asked {
			return a, nil, true
		}
		t.asked, t.Error = true, ""
		return a, []Effect{ReadStatic{Address: TablesFile}}, true
	case StaticRead:
		if m.Address != TablesFile {
			return a, nil, false
		}
		*t = t.read(m)
	case TablesTyped:
		t.Text, t.Open, t.More = m.Text, "", false
		*t = t.searched()
	case TableOpened:
		t.Open, t.Text, t.More, t.Found = m.ID, "", false, nil
		return a, []Effect{ShowTop{}}, true
	case TablesClosed:
		t.Open, t.Text, t.More, t.Found = "", "", false, nil
	case TablesMore:
		t.More = true
	default:
		return a, nil, false
	}
	return a, nil, true
}

// read takes the book in; one that cannot be read is asked for again when the page is shown again.
func (t Tables) read(m StaticRead) Tables {
	err := m.Err
	if err == nil {
		t.Book, err = tables.Parse(m.Data)
	}
	t.Known, t.Error = err == nil, ""
	if err != nil {
		t.asked, t.Error = false, shorten(err.Error())
	}
	return t.searched()
}

func (t Tables) searched() Tables {
	t.Found = t.Book.Find(t.Text)
	return t
}
