//go:build js

package idb

import (
	"context"
	"syscall/js"

	"torchside/storage"
)

// written are the object stores a write touches.
var written = []any{opsStore, headsStore, outboxStore, metaStore, dirsStore, blocksStore, infosStore, wantedStore}

// Commit implements storage.Store.
func (s *Store) Commit(ctx context.Context, stamp storage.Stamp) ([]storage.Record, error) {
	c := &commit{s: s, stamp: stamp}
	if err := s.run(ctx, true, written, c.body); err != nil {
		return nil, err
	}
	s.known.learn(c.put.indexing.staged)
	return c.records(), nil
}

// commit is one Commit, which may run twice. If the first run reached the disk
// although its end was never heard of, the second finds its ops.
type commit struct {
	s     *Store
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
		c.put = newPutting(t, c.s, c.ops) // all are held: this only reads their records
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
	c.put = newPutting(t, c.s, c.ops)
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
		put = newPutting(t, s, ops)
		put.start()
	})
	if err != nil {
		return storage.Appended{}, err
	}
	s.known.learn(put.indexing.staged)
	return put.done, nil
}
