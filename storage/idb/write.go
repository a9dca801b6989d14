//go:build js

package idb

import (
	"context"
	"encoding/json"
	"slices"
	"syscall/js"

	"torchside/storage"
)

// written are the object stores a write touches.
var written = []any{opsStore, headsStore, outboxStore, metaStore}

// Commit implements storage.Store.
func (s *Store) Commit(ctx context.Context, stamp storage.Stamp) ([]storage.Record, error) {
	c := &commit{stamp: stamp}
	if err := s.run(ctx, true, written, c.body); err != nil {
		return nil, err
	}
	return c.records(), nil
}

// commit is one Commit, which may run twice. If the first run reached the disk
// although its end was never heard of, the second finds its ops.
type commit struct {
	stamp storage.Stamp
	meta  storage.Meta
	ops   []storage.Op
	put   *putting
}

func (c *commit) body(t *tx) {
	if len(c.ops) == 0 {
		c.fresh(t)
		return
	}
	t.then(t.store(opsStore).Call("count", string(c.ops[0].ID)), func(count js.Value) {
		if count.Int() == 0 {
			c.fresh(t)
			return
		}
		c.put = newPutting(t, c.ops) // all are held: this only reads their records
		c.put.start()
	})
}

// fresh stamps and writes.
func (c *commit) fresh(t *tx) {
	t.then(t.store(metaStore).Call("get", deviceKey), func(row js.Value) {
		meta, err := readMeta(row)
		if err == nil {
			c.meta, c.ops, err = c.stamp(meta)
		}
		if err != nil {
			t.abort(err)
			return
		}
		c.write(t)
	})
}

func (c *commit) write(t *tx) {
	text, err := writeMeta(c.meta)
	if err != nil {
		t.abort(err)
		return
	}
	t.store(metaStore).Call("put", text, deviceKey)
	c.put = newPutting(t, c.ops)
	c.put.start()
}

// records gives each op's record as the transaction left it.
func (c *commit) records() []storage.Record {
	records := make([]storage.Record, 0, len(c.ops))
	for _, op := range c.ops {
		heads := c.put.heads[op.Rec]
		own := make([]storage.Op, 0, len(heads))
		for _, h := range heads {
			own = append(own, h.Clone())
		}
		records = append(records, storage.NewRecord(own))
	}
	return records
}

// Append implements storage.Store.
func (s *Store) Append(ctx context.Context, ops ...storage.Op) (storage.Appended, error) {
	var put *putting
	err := s.run(ctx, true, written, func(t *tx) {
		put = newPutting(t, ops)
		put.start()
	})
	if err != nil {
		return storage.Appended{}, err
	}
	return put.done, nil
}

// putting stores ops in three steps, each waiting for the reads of the one
// before: which ops are held already; what the heads of the records are and
// which new ops are named by held ones; then the writes.
type putting struct {
	t     *tx
	ops   []storage.Op
	fresh []storage.Op // not held yet, each once
	texts []string     // of fresh
	heads map[storage.ID][]storage.Op
	done  storage.Appended
}

func newPutting(t *tx, ops []storage.Op) *putting {
	return &putting{t: t, ops: ops, heads: make(map[storage.ID][]storage.Op)}
}

// start checks the ops and asks which of them are held.
func (p *putting) start() {
	store := p.t.store(opsStore)
	seen := make(map[storage.ID]storage.Op, len(p.ops))
	var unique []storage.Op
	var refused []storage.ID
	var held []js.Value
	for _, op := range p.ops {
		if err := op.Check(); err != nil {
			p.t.abort(err)
			return
		}
		twin, twice := seen[op.ID]
		switch {
		case !twice:
			seen[op.ID] = op
			unique = append(unique, op)
			held = append(held, store.Call("get", string(op.ID)))
		case !twin.Equal(op):
			refused = append(refused, op.ID)
		}
	}
	p.t.all(held, func(rows []js.Value) { p.sort(unique, rows, refused) })
}

// sort parts new ops from held ones and refuses those that differ.
func (p *putting) sort(unique []storage.Op, rows []js.Value, refused []storage.ID) {
	for i, op := range unique {
		text, err := json.Marshal(op)
		if err != nil {
			p.t.abort(err)
			return
		}
		switch {
		case rows[i].IsUndefined():
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
	for _, op := range p.ops {
		if _, asked := p.heads[op.Rec]; !asked {
			p.heads[op.Rec] = nil
			recs = append(recs, op.Rec)
			reads = append(reads, heads.Call("get", string(op.Rec)))
		}
	}
	for _, op := range p.fresh {
		reads = append(reads, names.Call("count", name(op.Rec, op.ID)))
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
		p.heads[rec] = heads
	}
	named := make(map[string]bool)
	for i, op := range p.fresh {
		if results[len(recs)+i].Int() > 0 {
			named[name(op.Rec, op.ID)] = true
		}
		for _, parent := range op.Parents {
			named[name(op.Rec, parent)] = true
		}
	}
	for _, op := range p.fresh {
		p.heads[op.Rec] = storage.NextHeads(p.heads[op.Rec], op, named[name(op.Rec, op.ID)])
	}
	p.write()
}

// write issues all writes; the browser commits when the last one is done.
func (p *putting) write() {
	ops, heads, outbox := p.t.store(opsStore), p.t.store(headsStore), p.t.store(outboxStore)
	changed := make(map[storage.ID]bool)
	for i, op := range p.fresh {
		ops.Call("put", opRow(op, p.texts[i]))
		outbox.Call("put", map[string]any{"op": string(op.ID)})
		changed[op.Rec] = true
	}
	for rec := range changed {
		if len(p.heads[rec]) == 0 {
			heads.Call("delete", string(rec)) // ops naming each other in a ring: no record
			continue
		}
		row, err := headsRow(storage.NewRecord(p.heads[rec]))
		if err != nil {
			p.t.abort(err)
			return
		}
		heads.Call("put", row)
	}
}
