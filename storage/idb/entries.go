//go:build js

package idb

import (
	"strconv"
	"strings"
	"syscall/js"

	"torchside/storage"
)

// entryRow is what is kept of the entry of one live record: its row in the
// terms store and its line in the briefs store.
type entryRow struct {
	termsRow
	line string
}

// termsRow is the row of the terms store. Each key is one term and the sort;
// among equal keys the index goes by record id.
type termsRow struct {
	Rec  storage.ID  `json:"rec"`
	Kind string      `json:"kind"`
	Sort string      `json:"sort"`
	Keys [][2]string `json:"keys"`
}

// termKey begins a key of the terms index. The term "" is that of every record
// of the kind. A kind holds no NUL, so it cannot run into the term.
func termKey(kind, term string) string { return kind + "\x00" + term }

func newEntryRow(rec storage.Record, index storage.Index) entryRow {
	e := index.Entry(rec)
	row := termsRow{Rec: rec.ID, Kind: rec.Kind, Sort: e.Sort, Keys: [][2]string{{termKey(rec.Kind, ""), e.Sort}}}
	for _, t := range e.Terms {
		row.Keys = append(row.Keys, [2]string{termKey(rec.Kind, t), e.Sort})
	}
	return entryRow{row, briefLine(rec, e)}
}

// briefLine is the row of the briefs store: text, so that thousands of them
// cross from JavaScript as one. An entry holds no control characters.
func briefLine(rec storage.Record, e storage.Entry) string {
	return string(rec.ID) + strconv.Itoa(int(rec.Conflict)) + e.Sort + "\t" + string(e.Brief)
}

// readBrief reads a line of the briefs store.
func readBrief(line string) (storage.Brief, bool) {
	head, data, ok := strings.Cut(line, "\t")
	if !ok || len(head) <= idText {
		return storage.Brief{}, false
	}
	b := storage.Brief{ID: storage.ID(head[:idText]), Conflict: storage.Conflict(head[idText] - '0'), Sort: head[idText+1:]}
	if data != "" {
		b.Data = []byte(data)
	}
	return b, true
}

// idText is the length of an id as text.
const idText = 36

// dropEntry deletes the entry a row of the terms store tells of, if any. The
// row itself is deleted too: the record may not get another.
func dropEntry(t *tx, rec storage.ID, row js.Value) {
	if !row.Truthy() {
		return
	}
	t.store(termsStore).Call("delete", string(rec))
	t.store(briefsStore).Call("delete", []any{row.Get("kind"), row.Get("sort"), string(rec)})
}

// putEntries writes entries; old ones of the same records were dropped.
func putEntries(t *tx, entries []entryRow) error {
	rows := make([]termsRow, 0, len(entries))
	briefs := t.store(briefsStore)
	for _, e := range entries {
		rows = append(rows, e.termsRow)
		briefs.Call("put", e.line, []any{e.Kind, e.Sort, string(e.Rec)})
	}
	return putAll(t, termsStore, rows)
}

// keyRange is the browser's maker of key ranges.
func keyRange() js.Value { return js.Global().Get("IDBKeyRange") }
