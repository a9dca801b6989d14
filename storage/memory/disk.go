package memory

import (
	"maps"
	"slices"

	"torchside/storage"
)

// Snapshot returns a copy of the disk as it is now, which later writes do not
// change: another device with the same data, or a backup.
func (d *Disk) Snapshot() *Disk {
	d.mu.Lock()
	defer d.mu.Unlock()
	c := &Disk{
		meta: d.meta, ops: maps.Clone(d.ops), named: maps.Clone(d.named), heads: make(map[storage.ID][]storage.Op, len(d.heads)),
		waiting: maps.Clone(d.waiting), refused: maps.Clone(d.refused), checkpoint: d.checkpoint,
		index: d.index, entries: maps.Clone(d.entries), blobs: maps.Clone(d.blobs), sent: maps.Clone(d.sent),
		gone: maps.Clone(d.gone), uses: maps.Clone(d.uses),
	}
	for rec, heads := range d.heads {
		c.heads[rec] = slices.Clone(heads)
	}
	return c
}

// Holds tells whether an op is on the disk.
func (d *Disk) Holds(id storage.ID) bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	_, held := d.ops[id]
	return held
}
