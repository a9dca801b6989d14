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
func opRow(op storage.Op, opText string) map[string]any {
	names := make([]any, 0, len(op.Parents))
	for _, p := range op.Parents {
		names = append(names, name(op.Rec, p))
	}
	return map[string]any{"op": string(op.ID), "rec": string(op.Rec), "names": names, "text": opText}
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
func headsRow(rec storage.Record) (map[string]any, error) {
	texts := make([]any, 0, len(rec.Heads))
	for _, h := range rec.Heads {
		t, err := json.Marshal(h)
		if err != nil {
			return nil, err
		}
		texts = append(texts, string(t))
	}
	return map[string]any{"rec": string(rec.ID), "kind": rec.Kind, "texts": texts}, nil
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
