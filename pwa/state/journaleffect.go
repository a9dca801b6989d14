package state

import (
	"fmt"

	"torchside/calc/journal"
	"torchside/storage"
)

// Effects of the journal.
type (
	// FindSheets reads one page of rows, the newest first, and answers with SheetsFound or SheetsNotFound. A sheet must have all
	// Terms, and one term that begins with Prefix if there is one.
	FindSheets struct {
		For    string
		Token  int
		Terms  []string
		Prefix string
		After  string // cursor of an earlier answer; "" for the first page
		Limit  int
	}
	// ReadSheet reads one sheet and answers with SheetRead.
	ReadSheet struct{ For, ID string }
	// ReadSheets reads several and answers with SheetsRead.
	ReadSheets struct {
		For string
		IDs []string
	}
	// PutPhotos prepares the files the page holds under Source, stores them, and answers with PhotoPut or PhotoRefused for each and
	// PhotosPut at the end.
	PutPhotos struct {
		Key, Role string
		Source    int
	}
	// TableSheets hands the table of all sheets that fit to the person (see SheetTable) and answers with SheetTableMade or
	// TransferFailed.
	TableSheets struct {
		Terms  []string
		Prefix string
	}
	// ShareText hands a text to another app, or to the clipboard where there is no such way; it answers with SheetShareFailed if
	// there is neither.
	ShareText struct{ Title, Text string }
)

func (FindSheets) effect()  {}
func (ReadSheet) effect()   {}
func (ReadSheets) effect()  {}
func (PutPhotos) effect()   {}
func (TableSheets) effect() {}
func (ShareText) effect()   {}

// SheetTable makes the table of sheets out of their records; those that cannot be read are left out, and counted.
func SheetTable(records []storage.Record) (data []byte, sheets, unread int) {
	list := make([]journal.Sheet, 0, len(records))
	for _, r := range records {
		s, err := journal.Read(r.Body)
		if err != nil || r.Deleted || !isSheet(r.Kind) {
			unread++
			continue
		}
		list = append(list, s)
	}
	return journal.CSV(list), len(list), unread
}

// SheetTableName is the name of the file of the table.
const SheetTableName = "torchside-sheets.csv"

// SheetIndex is what a store keeps beside a record to find it again. It is handed to the store when it is opened.
func SheetIndex(kind string, body []byte) (sort string, terms []string, brief []byte) {
	return journal.Index(kind, body)
}

// photoName names a photo in a message.
func photoName(p journal.Photo, i int) string {
	switch {
	case p.Caption != "":
		return p.Caption
	case p.Name != "":
		return p.Name
	}
	return fmt.Sprintf("Photo %d", i+1)
}
