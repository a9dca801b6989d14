//go:build js

package idb

import (
	"encoding/json"
	"fmt"
	"syscall/js"

	"torchside/storage"
)

// Rows keep the op as its one JSON text, so that content comes back exactly,
// beside the few fields the browser searches by.

// name is the entry of the names index for one parent of a record's op.
func name(rec, parent storage.ID) string { return string(rec) + "/" + string(parent) }

// opRow is the row of the ops store.
type opRow struct {
	Op    storage.ID     `json:"op"`
	Rec   storage.ID     `json:"rec"`
	Names []string       `json:"names"`
	Blobs []storage.Hash `json:"blobs,omitempty"`
	Text  string         `json:"text"`
}

func newOpRow(op storage.Op, opText string) opRow {
	names := make([]string, 0, len(op.Parents))
	for _, p := range op.Parents {
		names = append(names, name(op.Rec, p))
	}
	return opRow{Op: op.ID, Rec: op.Rec, Names: names, Blobs: op.Blobs, Text: opText}
}

// outboxRow is the row of the outbox store.
type outboxRow struct {
	Op storage.ID `json:"op"`
}

// readOp reads the text of an op.
func readOp(opText string) (storage.Op, error) {
	var op storage.Op
	if err := op.UnmarshalJSON([]byte(opText)); err != nil { // spares one of two scans of the text
		return storage.Op{}, fmt.Errorf("stored change: %w", err)
	}
	return op, nil
}

// headsRow is the row of the heads store: the whole ops, shown one first, so
// that a list needs no second look-up.
type headsRow struct {
	Rec   storage.ID `json:"rec"`
	Kind  string     `json:"kind"`
	Texts []string   `json:"texts"`
}

func newHeadsRow(rec storage.Record) (headsRow, error) {
	row := headsRow{Rec: rec.ID, Kind: rec.Kind}
	for _, h := range rec.Heads {
		t, err := json.Marshal(h)
		if err != nil {
			return row, err
		}
		row.Texts = append(row.Texts, string(t))
	}
	return row, nil
}

// readHeads reads a row of the heads store; no row gives no heads.
func readHeads(row js.Value) ([]storage.Op, error) {
	if row.IsUndefined() {
		return nil, nil
	}
	texts := row.Get("texts")
	heads := make([]storage.Op, texts.Length())
	for i := range heads {
		var err error
		if heads[i], err = readOp(texts.Index(i).String()); err != nil {
			return nil, err
		}
	}
	return heads, nil
}

// metaText is the device's row in the meta store, as JSON.
type metaText struct {
	Dev storage.ID  `json:"dev"`
	N   uint64      `json:"n"`
	HLC storage.HLC `json:"hlc"`
}

func writeMeta(m storage.Meta) (string, error) {
	t, err := json.Marshal(metaText(m))
	return string(t), err
}

// readMeta reads the device's row; no row gives the zero Meta.
func readMeta(row js.Value) (storage.Meta, error) {
	if row.IsUndefined() {
		return storage.Meta{}, nil
	}
	var m metaText
	if err := json.Unmarshal([]byte(row.String()), &m); err != nil {
		return storage.Meta{}, fmt.Errorf("stored device data: %w: %v", storage.ErrCorrupt, err)
	}
	return storage.Meta(m), nil
}

// toJS hands a value over through the browser's own JSON reader: one crossing
// for any number of rows, where setting field by field takes one each.
func toJS(v any) (js.Value, error) {
	text, err := json.Marshal(v)
	if err != nil {
		return js.Undefined(), err
	}
	return js.Global().Get("JSON").Call("parse", string(text)), nil
}

// putAll puts rows into an object store.
func putAll[R any](t *tx, name string, rows []R) error {
	values, err := toJS(rows)
	if err != nil {
		return err
	}
	store := t.store(name)
	for i := range rows {
		store.Call("put", values.Index(i))
	}
	return nil
}
