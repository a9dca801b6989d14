package merge

import (
	"bytes"
	"encoding/json"
	"maps"
	"slices"
	"time"

	"torchside/storage"
)

// ByRule is the device of ops that no device made: they follow from others by
// the rule of [Fields].
const ByRule storage.ID = "00000000-0000-8000-8000-000000000000"

// Fields settles a record whose heads changed different fields since the state
// they have in common: it returns the op that says so, a child of all heads.
// Whoever holds the same heads makes the same op, down to its id, so it does no
// harm that several devices make it. ops are all ops of the record, in any
// order; fields are those of the body, a JSON object, at its top level, and the
// list of attachments.
//
// It is false, and the heads are for a person to look at, when one field was
// changed to two values, when a head is a deletion, when kind or schema
// changed, when the common state is not one op or not here, and when the result
// would break a rule of Op.
func Fields(rec storage.ID, ops []storage.Op) (storage.Op, bool) {
	heads := Heads(rec, ops)
	if len(heads) < 2 || slices.ContainsFunc(heads, func(h storage.Op) bool { return h.Del }) {
		return storage.Op{}, false
	}
	base, ok := commonState(heads, ops)
	if !ok {
		return storage.Op{}, false
	}
	for _, h := range heads {
		if h.Kind != base.Kind || h.Schema != base.Schema {
			return storage.Op{}, false
		}
	}
	body, ok := mergeBodies(base, heads)
	if !ok {
		return storage.Op{}, false
	}
	blobs, ok := mergeBlobs(base, heads)
	if !ok {
		return storage.Op{}, false
	}
	op := opByRule(heads, body, blobs)
	return op, op.Check() == nil
}

// opByRule writes the op. All of it follows from the heads.
func opByRule(heads []storage.Op, body []byte, blobs []storage.Hash) storage.Op {
	top := heads[0]
	op := storage.Op{
		Rec: top.Rec, Kind: top.Kind, Schema: top.Schema, Parents: storage.NewRecord(heads).HeadIDs(),
		Dev: ByRule, N: 1, HLC: top.HLC.Next(time.UnixMilli(0)), At: top.At, Body: body, Blobs: blobs,
	}
	content := []byte(op.Rec)
	for _, p := range op.Parents {
		content = append(content, p...)
	}
	op.ID = storage.HashID(append(content, body...))
	return op
}

// commonState returns the one op all heads descend from that is nearest to
// them. There is none when an ancestor is not here: it could have been nearer.
func commonState(heads, ops []storage.Op) (storage.Op, bool) {
	byID := make(map[storage.ID]storage.Op, len(ops))
	for _, op := range ops {
		if op.Rec == heads[0].Rec {
			byID[op.ID] = op
		}
	}
	common, ok := ancestors(heads[0], byID)
	for _, h := range heads[1:] {
		own, whole := ancestors(h, byID)
		ok = ok && whole
		maps.DeleteFunc(common, func(id storage.ID, _ bool) bool { return !own[id] })
	}
	if !ok {
		return storage.Op{}, false
	}
	for id := range common {
		for _, p := range byID[id].Parents {
			common[p] = false // something nearer descends from it
		}
	}
	maps.DeleteFunc(common, func(_ storage.ID, nearest bool) bool { return !nearest })
	for id := range common {
		return byID[id], len(common) == 1
	}
	return storage.Op{}, false
}

// ancestors returns an op and all it descends from, and whether all are here.
func ancestors(op storage.Op, byID map[storage.ID]storage.Op) (map[storage.ID]bool, bool) {
	found := map[storage.ID]bool{op.ID: true}
	for todo := op.Parents; len(todo) > 0; {
		id := todo[0]
		todo = todo[1:]
		if found[id] {
			continue
		}
		found[id] = true
		parent, here := byID[id]
		if !here {
			return nil, false
		}
		todo = slices.Concat(todo, parent.Parents)
	}
	return found, true
}

// mergeBodies takes from each head the fields it changed. The result has its
// keys in order and no blanks between, so that it is the same everywhere.
func mergeBodies(base storage.Op, heads []storage.Op) ([]byte, bool) {
	was, ok := fieldsOf(base.Body)
	if !ok {
		return nil, false
	}
	changed := make(map[string]json.RawMessage) // nil: removed
	for _, h := range heads {
		is, ok := fieldsOf(h.Body)
		if !ok || !collect(changed, was, is) {
			return nil, false
		}
	}
	maps.Copy(was, changed)
	maps.DeleteFunc(was, func(_ string, v json.RawMessage) bool { return v == nil })
	body, err := json.Marshal(was)
	return body, err == nil
}

// collect adds what changed from was to is, and is false if something else was
// collected for the same field.
func collect(changed, was, is map[string]json.RawMessage) bool {
	for _, key := range slices.Concat(slices.Collect(maps.Keys(was)), slices.Collect(maps.Keys(is))) {
		if bytes.Equal(was[key], is[key]) {
			continue
		}
		if other, twice := changed[key]; twice && !bytes.Equal(other, is[key]) {
			return false
		}
		changed[key] = is[key]
	}
	return true
}

// fieldsOf reads a JSON object, its values without blanks.
func fieldsOf(body []byte) (map[string]json.RawMessage, bool) {
	var tight bytes.Buffer
	if json.Compact(&tight, body) != nil {
		return nil, false
	}
	fields := make(map[string]json.RawMessage)
	if json.Unmarshal(tight.Bytes(), &fields) != nil {
		return nil, false
	}
	return fields, fields != nil
}

// mergeBlobs takes the list of attachments of the heads that changed it.
func mergeBlobs(base storage.Op, heads []storage.Op) ([]storage.Hash, bool) {
	list := base.Blobs
	for _, h := range heads {
		switch {
		case slices.Equal(h.Blobs, base.Blobs), slices.Equal(h.Blobs, list):
		case !slices.Equal(list, base.Blobs):
			return nil, false
		default:
			list = h.Blobs
		}
	}
	return slices.Clone(list), true
}
