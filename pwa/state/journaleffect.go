package state

import (
	"maps"

	"torchside/calc/journal"
	"torchside/calc/words"
	"torchside/storage"
)

// Effects of the journal besides the questions to the store (FindRecords, CountTerms, ReadRecord).
type (
	// PutPhotos prepares the files the page holds under Source, stores them, and answers with PhotoStored or PhotoRefused for each and
	// PhotosPut at the end.
	PutPhotos struct {
		Key, Role string
		Source    int
		Plain     bool // as they are, not as pictures
	}
	// HandFile hands a file to the person; it answers with FileHanded or FileRefused.
	HandFile struct {
		Name string
		Data []byte
	}
	// ShareText hands a text to another app, or to the clipboard where there is no such way; it answers with SheetShareFailed if
	// there is neither.
	ShareText struct{ Title, Text string }
)

func (PutPhotos) effect() {}
func (HandFile) effect()  {}
func (ShareText) effect() {}

// SheetTableName is the name of the file of the table of sheets.
const SheetTableName = "torchside-sheets.csv"

// What a question to the store is for.
const (
	forList    = "list"
	forWorked  = "worked"
	forTrends  = "trends"
	forSample  = "sample"
	forAll     = "all"
	forNone    = "sample?"
	forTable   = "table"
	forMenu    = "menu"
	forSplit   = "split"
	forDrill   = "drill:"
	forOpen    = "open"
	forEdit    = "edit"
	forCopy    = "copy"
	forCompare = "compare"
)

// token numbers a question and notes what it is for.
func (a App) token(what string) (App, int) {
	a.tokens++
	a.Journal.asked = maps.Clone(a.Journal.asked)
	if a.Journal.asked == nil {
		a.Journal.asked = map[int]string{}
	}
	a.Journal.asked[a.tokens] = what
	return a, a.tokens
}

// answered tells what an answer is for, once; ok is false for answers to others.
func (a App) answered(token int) (App, string, bool) {
	what, ok := a.Journal.asked[token]
	if ok {
		a.Journal.asked = without(a.Journal.asked, token)
	}
	return a, what, ok
}

// find asks for the briefs of the newest sheets that fit.
func (a App) find(what string, f journal.Filter, limit int) (App, []Effect) {
	a, token := a.token(what)
	return a, []Effect{FindRecords{Token: token, Find: storage.Find{Kind: journal.Kind, Terms: f.Terms(), Newest: true, Limit: limit, Briefs: true}}}
}

func (a App) readSheet(what, id string) (App, []Effect) {
	a, token := a.token(what)
	return a, []Effect{ReadRecord{Token: token, ID: storage.ID(id)}}
}

// photoName names a photo in a message.
func photoName(p journal.Photo, i int) string {
	switch {
	case p.Caption != "":
		return p.Caption
	case p.Name != "":
		return p.Name
	}
	return words.F("Photo %d", i+1)
}
