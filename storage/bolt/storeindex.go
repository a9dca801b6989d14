//go:build !js

package bolt

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"

	"go.etcd.io/bbolt"

	"torchside/storage"
	"torchside/storage/postings"
)

// prepare makes the buckets of a store, and its index anew if it is another.
func (s *Store) prepare(tx *bbolt.Tx) error {
	b, err := shop(tx, s.id)
	if err != nil {
		return err
	}
	own, err := b.CreateBucketIfNotExists(storeBucket)
	if err != nil {
		return err
	}
	for _, name := range storeBuckets {
		if _, err := own.CreateBucketIfNotExists(name); err != nil {
			return err
		}
	}
	// Devices push past the index, so it also tells up to which change it goes.
	state := fmt.Appendf(nil, "%d %d", s.index.Version, b.Bucket(logBucket).Sequence())
	if string(own.Get(indexKey)) == string(state) {
		return errNothing
	}
	for _, name := range [][]byte{dirsBucket, blocksBucket} {
		if err := own.DeleteBucket(name); err != nil {
			return err
		}
		if _, err := own.CreateBucket(name); err != nil {
			return err
		}
	}
	all := make(map[idKey]string)
	err = b.Bucket(headsBucket).ForEach(func(rec, _ []byte) error {
		all[idKey(rec)] = ""
		return nil
	})
	return errorsOf(err, s.reindex(b, all))
}

// reindex brings records as they are now into the index; before is the kind
// each had.
func (s *Store) reindex(b *bbolt.Bucket, before map[idKey]string) error {
	changes := make(map[string][]postings.Change)
	for rec, kind := range before {
		r, err := recordOf(b, rec[:])
		if err != nil {
			return err
		}
		if kind != "" && kind != r.Kind {
			changes[kind] = append(changes[kind], postings.Change{Record: postings.Record{ID: idText(rec[:])}, Gone: true})
		}
		if r.Kind != "" {
			changes[r.Kind] = append(changes[r.Kind], postings.NewChange(r, s.index))
		}
	}
	own := b.Bucket(storeBucket)
	for kind, list := range changes {
		if err := plan(own, kind, list); err != nil {
			return err
		}
	}
	return own.Put(indexKey, fmt.Appendf(nil, "%d %d", s.index.Version, b.Bucket(logBucket).Sequence()))
}

func blockKey(kind string, key int) []byte {
	return append(append([]byte(kind), 0), number(uint64(key))...)
}

// directory reads the directory of a kind.
func directory(own *bbolt.Bucket, kind string) (d postings.Directory, err error) {
	err = getRow(own.Bucket(dirsBucket), []byte(kind), &d)
	if errors.Is(err, errNoRow) {
		err = nil
	}
	return d, err
}

// load reads blocks of some numbers.
func load(own *bbolt.Bucket, kind string, d postings.Directory, numbers []int) (map[int]*postings.Block, error) {
	blocks := make(map[int]*postings.Block, len(numbers))
	for _, n := range numbers {
		b, err := postings.Decode(own.Bucket(blocksBucket).Get(blockKey(kind, d.Blocks[n].Key)))
		if err != nil {
			return nil, err
		}
		blocks[n] = b
	}
	return blocks, nil
}

// plan makes changes in the blocks of a kind.
func plan(own *bbolt.Bucket, kind string, list []postings.Change) error {
	d, err := directory(own, kind)
	if err != nil {
		return err
	}
	held, err := load(own, kind, d, d.Touched(list))
	if err != nil {
		return err
	}
	next, put, drop := d.Plan(list, func(n int) *postings.Block { return held[n] }, rand.Uint64)
	for _, key := range drop {
		if err := own.Bucket(blocksBucket).Delete(blockKey(kind, key)); err != nil {
			return err
		}
	}
	for _, w := range put {
		if err := own.Bucket(blocksBucket).Put(blockKey(kind, w.Key), w.Block.Encode()); err != nil {
			return err
		}
	}
	raw, err := json.Marshal(next)
	return errorsOf(err, own.Bucket(dirsBucket).Put([]byte(kind), raw))
}

// Find implements storage.Store.
func (s *Store) Find(ctx context.Context, f storage.Find) (page storage.Page, err error) {
	if err := f.Check(); err != nil {
		return page, err
	}
	f = f.Cut()
	err = s.view(ctx, func(b *bbolt.Bucket) error {
		blocks, others, err := blocksOf(b.Bucket(storeBucket), f)
		if err != nil {
			return err
		}
		found, total, more := postings.Search(blocks, f)
		if page.Total = total + others; more {
			page.Next = found[len(found)-1].Place()
		}
		return show(b, &page, f, found)
	})
	return page, err
}

// show adds what was found to a page, as it was asked for.
func show(b *bbolt.Bucket, page *storage.Page, f storage.Find, found []postings.Record) error {
	for _, r := range found {
		if f.Briefs {
			brief := storage.Brief{ID: r.ID, Sort: r.Sort, Conflict: r.Conflict}
			if r.Brief != "" {
				brief.Data = []byte(r.Brief)
			}
			page.Briefs = append(page.Briefs, brief)
			continue
		}
		rec, err := recordOf(b, idBytes(r.ID))
		if err != nil {
			return err
		}
		page.Records = append(page.Records, rec)
	}
	return nil
}

// blocksOf reads the blocks a question needs, in order, and says how many
// records match in the others.
func blocksOf(own *bbolt.Bucket, f storage.Find) (blocks []*postings.Block, others int, err error) {
	d, err := directory(own, f.Kind)
	if err != nil {
		return nil, 0, err
	}
	numbers, others := d.Needed(f)
	byNumber, err := load(own, f.Kind, d, numbers)
	for _, n := range slices.Sorted(maps.Keys(byNumber)) {
		blocks = append(blocks, byNumber[n])
	}
	return blocks, others, err
}

// Terms implements storage.Store.
func (s *Store) Terms(ctx context.Context, kind, prefix string) (terms []storage.TermCount, err error) {
	if kind == "" {
		return nil, fmt.Errorf("%w: no kind to look for", storage.ErrInvalid)
	}
	err = s.view(ctx, func(b *bbolt.Bucket) error {
		// Which blocks have a term is only known by looking, so it is asked as a filter is.
		blocks, _, err := blocksOf(b.Bucket(storeBucket), storage.Find{Kind: kind, Prefix: "any"})
		terms = postings.Terms(blocks, storage.CutTerm(prefix))
		return err
	})
	return terms, err
}
