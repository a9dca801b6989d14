package archive

import (
	"context"
	"crypto/sha256"
	"errors"
	"maps"
	"slices"

	"torchside/storage"
)

// Plan says what an import would do, before it does.
type Plan struct {
	New     map[string]int // records that are not here yet, by kind
	Changed map[string]int // records here to which something is added, by kind
	Known   int            // records of which everything is here already
	Blobs   int            // attachments that are not here yet
	Split   int            // records whose owner would have to choose between two versions
}

// Preview works out what [Import] would do with a file now, and changes nothing. It reads the file and the store side by side, op by op;
// memory grows by the ids of what is new. Errors are those of the store, and of a file that changed since it was read.
func Preview(ctx context.Context, s storage.Store, a *Archive) (Plan, error) {
	p := preview{held: &heldOps{ctx: ctx, s: s}, parents: make(map[storage.ID]bool), records: make(map[storage.ID]*newOps)}
	if err := a.Each(p.op); err != nil {
		return Plan{}, err
	}
	if err := p.held.to("", p.note); err != nil { // what the store has behind the last op of the file
		return Plan{}, err
	}
	plan := Plan{New: make(map[string]int), Changed: make(map[string]int)}
	for _, id := range slices.Sorted(maps.Keys(p.records)) {
		if err := p.record(ctx, s, id, &plan); err != nil {
			return Plan{}, err
		}
	}
	for lot := range slices.Chunk(a.blobs, pageOps) {
		var names []storage.Hash
		for _, f := range lot {
			names = append(names, f.Name[len(blobsFolder):])
		}
		missing, err := s.MissingBlobs(ctx, names...)
		if err != nil {
			return Plan{}, err
		}
		plan.Blobs += len(missing)
	}
	return plan, nil
}

// preview is one Preview.
type preview struct {
	held    *heldOps
	parents map[storage.ID]bool // ops that some other op follows
	records map[storage.ID]*newOps
}

// newOps are the ops of a record that are not here, with the hash of each body in its place.
type newOps struct {
	kind string
	ops  []storage.Op
}

func (p *preview) note(op storage.Op) {
	for _, id := range op.Parents {
		p.parents[id] = true
	}
}

// op takes in the next op of the file.
func (p *preview) op(op storage.Op) error {
	if err := p.held.to(op.ID, p.note); err != nil {
		return err
	}
	p.note(op)
	r := p.records[op.Rec]
	if r == nil {
		r = &newOps{}
		p.records[op.Rec] = r
	}
	if op.Kind != "" {
		r.kind = op.Kind
	}
	if !p.held.has(op.ID) {
		sum := sha256.Sum256(op.Body)
		op.Body = sum[:]
		r.ops = append(r.ops, op)
	}
	return nil
}

// record counts one record of the file.
func (p *preview) record(ctx context.Context, s storage.Store, id storage.ID, plan *Plan) error {
	r := p.records[id]
	if len(r.ops) == 0 {
		plan.Known++
		return nil
	}
	heads, err := headsHere(ctx, s, id)
	if err != nil {
		return err
	}
	if len(heads) == 0 {
		plan.New[r.kind]++
	} else {
		plan.Changed[r.kind]++
	}
	heads = slices.DeleteFunc(append(heads, r.ops...), func(op storage.Op) bool { return p.parents[op.ID] })
	slices.SortFunc(heads, func(a, b storage.Op) int { return b.Compare(a) })
	if len(heads) > 1 && storage.NewRecord(heads).Conflict != storage.ConflictNone {
		plan.Split++
	}
	return nil
}

// heldOps goes through the ops of a store by ascending id.
type heldOps struct {
	ctx  context.Context
	s    storage.Store
	page []storage.Op // not gone through yet
	last storage.ID   // the last one read
	at   storage.ID   // the last one gone through
	done bool
}

// to goes on to the given id, or to the end for "", and hands over what lies on the way.
func (h *heldOps) to(id storage.ID, each func(storage.Op)) error {
	for {
		for len(h.page) > 0 && (id == "" || h.page[0].ID <= id) {
			each(h.page[0])
			h.at, h.page = h.page[0].ID, h.page[1:]
		}
		if len(h.page) > 0 || h.done {
			return nil
		}
		page, err := h.s.Ops(h.ctx, h.last, pageOps)
		if err != nil {
			return err
		}
		h.page, h.done = page, len(page) == 0
		if !h.done {
			h.last = page[len(page)-1].ID
		}
	}
}

// has reports whether the store holds the id that to has gone on to.
func (h *heldOps) has(id storage.ID) bool { return h.at == id }

// headsHere are the heads of a record as they are here, with hashes for bodies; none when it is not here.
func headsHere(ctx context.Context, s storage.Store, id storage.ID) ([]storage.Op, error) {
	rec, err := s.Get(ctx, id)
	switch {
	case errors.Is(err, storage.ErrNotFound):
		return nil, nil
	case err != nil:
		return nil, err
	}
	heads := slices.Clone(rec.Heads)
	for i := range heads {
		sum := sha256.Sum256(heads[i].Body)
		heads[i].Body = sum[:]
	}
	return heads, nil
}
