package archive

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"maps"
	"slices"

	"torchside/storage"
)

// Report says what an import did. Nothing that was in the store is gone.
type Report struct {
	Added   int // ops that are new here
	Held    int // ops that were here already
	Records int // records the added ops belong to
	Blobs   int // attachments that are new here
	// Split are the records, among those that got something new, whose owner
	// must choose between two versions; ascending.
	Split []storage.ID
	// Refused are ops whose id is held here with other content, which no app
	// writes. The ones held stay as they are.
	Refused []storage.ID
}

// lotBytes is how much is stored in one transaction: with many large bodies
// fewer than pageOps, so that memory stays bounded.
const lotBytes = 2 << 20

// Import adds what a file holds to the store, attachments first; progress may
// be nil. storage.ErrFull before anything is written: there is less room than
// the file needs. Each lot of a few hundred ops is durable by itself; the report
// tells what was stored also when an error of the store, or a file that changed
// since it was read, ends it early. Importing the same file again goes on where
// it ended and changes nothing else.
func Import(ctx context.Context, s storage.Store, a *Archive, progress Progress) (Report, error) {
	i := &importing{s: s, a: a, progress: progress, touched: make(map[storage.ID]bool), split: make(map[storage.ID]bool)}
	for _, step := range []func(context.Context) error{i.room, i.blobs, i.ops} {
		if err := step(ctx); err != nil {
			return i.result(), fmt.Errorf("import: %w", err)
		}
	}
	return i.result(), nil
}

// importing is one Import.
type importing struct {
	s        storage.Store
	a        *Archive
	progress Progress
	done     int64
	missing  map[storage.Hash]bool // attachments the store does not hold
	touched  map[storage.ID]bool   // records that got something new
	split    map[storage.ID]bool   // those of them in conflict
	lot      []storage.Op
	lotSize  int
	report   Report
}

func (i *importing) result() Report {
	i.report.Records = len(i.touched)
	i.report.Split = slices.Sorted(maps.Keys(i.split))
	return i.report
}

// room compares what is needed with what the host allows. An op is kept twice,
// in its record too, and found by an index: three times its text is enough.
func (i *importing) room(ctx context.Context) error {
	i.missing = make(map[storage.Hash]bool)
	need := 3 * i.a.Manifest.Bytes
	for lot := range slices.Chunk(i.a.blobs, pageOps) {
		var names []storage.Hash
		for _, f := range lot {
			names = append(names, f.Name[len(blobsFolder):])
		}
		missing, err := i.s.MissingBlobs(ctx, names...)
		if err != nil {
			return err
		}
		for _, f := range lot {
			if name := f.Name[len(blobsFolder):]; slices.Contains(missing, name) {
				i.missing[name] = true
				need += int64(f.UncompressedSize64)
			}
		}
	}
	u, err := i.s.Usage(ctx)
	if err == nil && u.Quota > 0 && need > u.Quota-u.Bytes {
		return fmt.Errorf("%w: the file needs up to %d bytes, %d are left; nothing was added", storage.ErrFull, need, max(0, u.Quota-u.Bytes))
	}
	return err
}

// blobs stores the attachments that are missing.
func (i *importing) blobs(ctx context.Context) error {
	for _, f := range i.a.blobs {
		if i.missing[f.Name[len(blobsFolder):]] {
			data, err := readBlob(f)
			if err != nil {
				return err
			}
			if _, err := i.s.PutBlob(ctx, data); err != nil {
				return err
			}
			i.report.Blobs++
		}
		i.done += int64(f.UncompressedSize64)
		i.progress.tell(i.done, i.a.total())
	}
	return nil
}

// ops stores the ops in lots.
func (i *importing) ops(ctx context.Context) error {
	err := i.a.eachOp(sha256.New(), func(op storage.Op, size int) error {
		i.lot = append(i.lot, op)
		if i.lotSize += size; len(i.lot) < pageOps && i.lotSize < lotBytes {
			return nil
		}
		return i.store(ctx)
	})
	if err != nil {
		return err
	}
	return i.store(ctx)
}

// store stores a lot; ops the store refuses by id are left out.
func (i *importing) store(ctx context.Context) error {
	if len(i.lot) == 0 {
		return nil
	}
	done, err := i.s.Append(ctx, i.lot...)
	var mismatch *storage.MismatchError
	if errors.As(err, &mismatch) {
		i.report.Refused = append(i.report.Refused, mismatch.Ops...)
		i.lot = slices.DeleteFunc(i.lot, func(op storage.Op) bool { return slices.Contains(mismatch.Ops, op.ID) })
		done, err = i.s.Append(ctx, i.lot...)
	}
	if err != nil {
		return err
	}
	i.count(done)
	i.done += int64(i.lotSize)
	i.progress.tell(i.done, i.a.total())
	i.lot, i.lotSize = nil, 0
	return nil
}

// count notes what a lot did. A later lot may settle a conflict of an earlier.
func (i *importing) count(done storage.Appended) {
	i.report.Added += len(done.Added)
	i.report.Held += len(done.Held)
	added := make(map[storage.ID]bool, len(done.Added))
	for _, id := range done.Added {
		added[id] = true
	}
	for _, op := range i.lot {
		if added[op.ID] {
			i.touched[op.Rec] = true
			delete(i.split, op.Rec)
		}
	}
	for _, rec := range done.Split {
		i.split[rec] = true
	}
}
