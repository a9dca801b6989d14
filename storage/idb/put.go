//go:build js

package idb

import (
	"encoding/json"
	"slices"
	"syscall/js"

	"torchside/storage"
)

// putting stores ops in four steps, each waiting for the reads of the one
// before: whether there can be anything to compare with; which ops are held
// already; what the heads of the records are and which new ops are named by
// held ones; then the writes.
type putting struct {
	t      *tx
	s      *Store
	ops    []storage.Op
	unique []storage.Op // each id once
	fresh  []storage.Op // not held yet
	texts  []string     // of fresh
	heads  map[storage.ID][]storage.Op
	kinds  map[storage.ID]string // each record's kind before, where it was one
	near   nearby
	done   storage.Appended
	from   *storage.Checkpoint // they came from the vault, and this is where they reach to

	indexing indexing
}

// nearby tells in which ranges the database holds anything. A big import into
// empty data, or of ops all newer than those held, then needs no look-ups.
type nearby struct{ ops, heads, names bool }

// probed is from how many ops on it pays to look first.
const probed = 8

func newPutting(t *tx, s *Store, ops []storage.Op) *putting {
	return &putting{
		t: t, s: s, ops: ops, near: nearby{true, true, true}, indexing: indexing{t: t, known: &s.known},
		heads: make(map[storage.ID][]storage.Op), kinds: make(map[storage.ID]string),
	}
}

// start checks the ops and looks what is near them.
func (p *putting) start() {
	refused, err := p.sortOut()
	if err != nil {
		p.t.abort(err)
		return
	}
	reads := []js.Value{p.t.store(metaStore).Call("get", indexKey)}
	if len(p.unique) >= probed {
		reads = append(reads, p.probes()...)
	}
	p.t.all(reads, func(results []js.Value) {
		state, known := readIndexState(results[0])
		p.indexing.stale = known && state.Version != p.s.index.Version
		if len(results) > 1 {
			p.near = nearby{results[1].Int() > 0, results[2].Int() > 0, results[3].Int() > 0}
		}
		p.readHeld(refused)
	})
}

// sortOut checks every op, and returns the ids given twice with other content.
func (p *putting) sortOut() (refused []storage.ID, err error) {
	seen := make(map[storage.ID]storage.Op, len(p.ops))
	for _, op := range p.ops {
		if err := op.Check(); err != nil {
			return nil, err
		}
		twin, twice := seen[op.ID]
		switch {
		case !twice:
			seen[op.ID] = op
			p.unique = append(p.unique, op)
		case !twin.Equal(op):
			refused = append(refused, op.ID)
		}
	}
	return refused, nil
}

// probes count what lies between the first and the last of the ids.
func (p *putting) probes() []js.Value {
	ids, recs := []storage.ID{}, []storage.ID{}
	for _, op := range p.unique {
		ids, recs = append(ids, op.ID), append(recs, op.Rec)
	}
	between := func(from, to string) js.Value { return keyRange().Call("bound", from, to) }
	firstRec, lastRec := string(slices.Min(recs)), string(slices.Max(recs))
	return []js.Value{
		p.t.store(opsStore).Call("count", between(string(slices.Min(ids)), string(slices.Max(ids)))),
		p.t.store(headsStore).Call("count", between(firstRec, lastRec)),
		p.t.store(opsStore).Call("index", namesIndex).Call("count", between(firstRec, lastRec+"/\uffff")),
	}
}

// readHeld asks which ops are held.
func (p *putting) readHeld(refused []storage.ID) {
	if !p.near.ops {
		p.compare(nil, refused)
		return
	}
	store := p.t.store(opsStore)
	held := make([]js.Value, 0, len(p.unique))
	for _, op := range p.unique {
		held = append(held, store.Call("get", string(op.ID)))
	}
	p.t.all(held, func(rows []js.Value) { p.compare(rows, refused) })
}

// compare tells new ops from held ones and refuses those that differ.
func (p *putting) compare(rows []js.Value, refused []storage.ID) {
	for i, op := range p.unique {
		text, err := json.Marshal(op)
		if err != nil {
			p.t.abort(err)
			return
		}
		switch {
		case rows == nil || rows[i].IsUndefined():
			p.fresh, p.texts = append(p.fresh, op), append(p.texts, string(text))
			p.done.Added = append(p.done.Added, op.ID)
		case rows[i].Get("text").String() == string(text):
			p.done.Held = append(p.done.Held, op.ID)
		default:
			refused = append(refused, op.ID)
		}
	}
	if len(refused) > 0 {
		slices.Sort(refused)
		p.t.abort(&storage.MismatchError{Ops: slices.Compact(refused)})
		return
	}
	p.readHeads()
}

// readHeads asks for the heads of every record named, and for each new op
// whether a held op of its record names it as parent.
func (p *putting) readHeads() {
	var recs []storage.ID
	var reads []js.Value
	heads, names := p.t.store(headsStore), p.t.store(opsStore).Call("index", namesIndex)
	for _, op := range p.unique {
		if _, asked := p.heads[op.Rec]; asked {
			continue
		}
		p.heads[op.Rec] = nil
		if p.near.heads {
			recs = append(recs, op.Rec)
			reads = append(reads, heads.Call("get", string(op.Rec)))
		}
	}
	if p.near.names {
		for _, op := range p.fresh {
			reads = append(reads, names.Call("count", name(op.Rec, op.ID)))
		}
	}
	p.t.all(reads, func(results []js.Value) { p.moveHeads(recs, results) })
}

// moveHeads works out the new heads of every record.
func (p *putting) moveHeads(recs []storage.ID, results []js.Value) {
	for i, rec := range recs {
		heads, err := readHeads(results[i])
		if err != nil {
			p.t.abort(err)
			return
		}
		if p.heads[rec] = heads; len(heads) > 0 {
			p.kinds[rec] = storage.NewRecord(heads).Kind
		}
	}
	named := p.named(results[len(recs):])
	for _, op := range p.fresh {
		p.heads[op.Rec] = storage.NextHeads(p.heads[op.Rec], op, named[name(op.Rec, op.ID)])
	}
	p.t.guard(p.write)
}

// named tells which ops are named as parents, by held ops (their counts, in
// the order of the fresh ones) and by the new ones.
func (p *putting) named(counts []js.Value) map[string]bool {
	named := make(map[string]bool)
	for i, op := range p.fresh {
		if p.near.names && counts[i].Int() > 0 {
			named[name(op.Rec, op.ID)] = true
		}
		for _, parent := range op.Parents {
			named[name(op.Rec, parent)] = true
		}
	}
	return named
}

// write issues all writes; the browser commits when the last one is done.
func (p *putting) write() {
	ops, outbox := make([]opRow, 0, len(p.fresh)), make([]outboxRow, 0, len(p.fresh))
	changed := make(map[storage.ID]bool)
	for i, op := range p.fresh {
		ops = append(ops, newOpRow(op, p.texts[i]))
		if p.from == nil {
			outbox = append(outbox, outboxRow{op.ID})
		}
		changed[op.Rec] = true
	}
	heads, entries, err := p.records(changed)
	for _, put := range []func() error{
		func() error { return err },
		func() error { return putAll(p.t, opsStore, ops) },
		func() error { return putAll(p.t, outboxStore, outbox) },
		func() error { return putAll(p.t, headsStore, heads) },
		p.came,
	} {
		if err := put(); err != nil {
			p.t.abort(err)
			return
		}
	}
	p.want()
	p.indexing.make(entries)
}

// records returns the rows of the changed records and what becomes of their
// entries, and deletes those that are no records any more: ops naming each
// other in a ring.
func (p *putting) records(changed map[storage.ID]bool) ([]headsRow, changes, error) {
	var heads []headsRow
	entries := make(changes)
	for rec := range changed {
		record := storage.NewRecord(p.heads[rec])
		record.ID = rec
		entries.add(p.kinds[rec], record, p.s.index)
		if len(record.Heads) == 0 {
			p.t.store(headsStore).Call("delete", string(rec))
			continue
		}
		row, err := newHeadsRow(record)
		if err != nil {
			return nil, nil, err
		}
		heads = append(heads, row)
		if record.Conflict != storage.ConflictNone {
			p.done.Split = append(p.done.Split, rec)
		}
	}
	slices.Sort(p.done.Split)
	return heads, entries, nil
}
