//go:build js

package idb

import (
	"encoding/json"
	"maps"
	"math/rand/v2"
	"slices"
	"syscall/js"

	"torchside/storage"
	"torchside/storage/postings"
)

// The browser's own indexes take some 50 µs for each key they pass, most of it
// in another process: seconds, for twenty thousand records with forty terms
// each. So the index is kept as blocks, of which a save rewrites one, and of
// which a question reads those that changed since the last one.

// changes are what becomes of the entries of records, by kind.
type changes map[string][]postings.Change

// add notes a record as it is now; before is the kind it had, "" if it is new.
func (c changes) add(before string, rec storage.Record, index storage.Index) {
	if before != "" && before != rec.Kind {
		c[before] = append(c[before], postings.Change{Record: postings.Record{ID: rec.ID}, Gone: true})
	}
	if rec.Kind != "" {
		c[rec.Kind] = append(c[rec.Kind], postings.NewChange(rec, index))
	}
}

// known are the blocks this store has seen, by kind and key. A block is only
// used while the directory names it with the same revision.
type known struct {
	blocks map[blockKey]postings.Written
	dirs   map[string]readDirectory // by kind: the one read last
}

// readDirectory is a directory with the text it was read from: the same text is not read twice.
type readDirectory struct {
	text string
	postings.Directory
}

func (k *known) directory(kind, text string) (postings.Directory, error) {
	if read, ok := k.dirs[kind]; ok && read.text == text {
		return read.Directory, nil
	}
	var d postings.Directory
	if err := json.Unmarshal([]byte(text), &d); err != nil {
		return postings.Directory{}, err
	}
	if k.dirs == nil {
		k.dirs = make(map[string]readDirectory)
	}
	k.dirs[kind] = readDirectory{text, d}
	return d, nil
}

type blockKey struct {
	kind string
	key  int
}

func (k *known) get(kind string, ref postings.Ref) *postings.Block {
	if w, ok := k.blocks[blockKey{kind, ref.Key}]; ok && w.Rev == ref.Rev {
		return w.Block
	}
	return nil
}

// learn keeps blocks, after the transaction that read or wrote them.
func (k *known) learn(staged map[blockKey]postings.Written) {
	if k.blocks == nil {
		k.blocks = make(map[blockKey]postings.Written)
	}
	maps.Copy(k.blocks, staged)
}

// indexing reads and writes blocks in one transaction.
type indexing struct {
	t      *tx
	known  *known
	staged map[blockKey]postings.Written // read or written here
	stale  bool                          // what is written is not all of one index
}

func (x *indexing) stage(kind string, w postings.Written) {
	if x.staged == nil {
		x.staged = make(map[blockKey]postings.Written)
	}
	x.staged[blockKey{kind, w.Key}] = w
}

// directory reads the directory of a kind.
func (x *indexing) directory(kind string, then func(postings.Directory, error)) {
	x.t.then(x.t.store(dirsStore).Call("get", kind), func(row js.Value) {
		var d postings.Directory
		var err error
		if !row.IsUndefined() {
			d, err = x.known.directory(kind, row.String())
		}
		then(d, err)
	})
}

// load gives the blocks of some numbers, reading those not known.
func (x *indexing) load(kind string, d postings.Directory, numbers []int, then func(map[int]*postings.Block, error)) {
	l := &loading{x: x, kind: kind, d: d, blocks: make(map[int]*postings.Block, len(numbers)), then: then}
	for _, n := range numbers {
		if l.blocks[n] = x.known.get(kind, d.Blocks[n]); l.blocks[n] == nil {
			l.missing = append(l.missing, n)
		}
	}
	l.next()
}

// blocksAtOnce is how many blocks are asked for before the first is decoded:
// some 800 kB as bytes of the browser.
const blocksAtOnce = 16

// loading is one load under way.
type loading struct {
	x       *indexing
	kind    string
	d       postings.Directory
	missing []int // numbers still to be read
	blocks  map[int]*postings.Block
	fault   error
	then    func(map[int]*postings.Block, error)
}

func (l *loading) next() {
	if len(l.missing) == 0 {
		l.then(l.blocks, l.fault)
		return
	}
	part := l.missing[:min(len(l.missing), blocksAtOnce)]
	l.missing = l.missing[len(part):]
	store, reads := l.x.t.store(blocksStore), make([]js.Value, 0, len(part))
	for _, n := range part {
		reads = append(reads, store.Call("get", []any{l.kind, l.d.Blocks[n].Key}))
	}
	l.x.t.all(reads, func(rows []js.Value) {
		for i, n := range part {
			b, err := postings.Decode(bytesOf(rows[i]))
			if err != nil {
				l.fault = err
				continue
			}
			l.blocks[n] = b
			l.x.stage(l.kind, postings.Written{Ref: l.d.Blocks[n], Block: b})
		}
		l.next()
	})
}

// make brings changes into the index. An index that cannot be read is no
// reason to refuse what was typed: it is marked, and made anew at the next
// opening or question.
func (x *indexing) make(all changes) {
	for kind, list := range all {
		x.directory(kind, func(d postings.Directory, err error) {
			if err != nil {
				x.spoil()
				return
			}
			x.load(kind, d, d.Touched(list), func(blocks map[int]*postings.Block, err error) {
				if err != nil {
					x.spoil()
					return
				}
				x.t.guard(func() { x.put(kind, d, list, blocks) })
			})
		})
	}
	if x.stale && len(all) > 0 {
		x.spoil()
	}
}

// spoil marks the index as one to be made anew.
func (x *indexing) spoil() { x.t.store(metaStore).Call("put", true, staleKey) }

// put writes the blocks that changes give.
func (x *indexing) put(kind string, d postings.Directory, list []postings.Change, blocks map[int]*postings.Block) {
	next, put, drop := d.Plan(list, func(n int) *postings.Block { return blocks[n] }, rand.Uint64)
	text, err := json.Marshal(next)
	if err != nil {
		x.t.abort(err)
		return
	}
	store := x.t.store(blocksStore)
	for _, key := range drop {
		store.Call("delete", []any{kind, key})
	}
	for _, w := range put {
		store.Call("put", bufferOf(w.Block.Encode()), []any{kind, w.Key})
		x.stage(kind, w)
	}
	x.t.store(dirsStore).Call("put", string(text), kind)
}

// blocksOf reads the blocks of a kind that a question needs, in order, and
// says how many records match in the others.
func (x *indexing) blocksOf(f storage.Find, then func(blocks []*postings.Block, others int)) {
	x.directory(f.Kind, func(d postings.Directory, err error) {
		if err != nil {
			x.t.abort(errIndex)
			return
		}
		numbers, others := d.Needed(f)
		x.load(f.Kind, d, numbers, func(blocks map[int]*postings.Block, err error) {
			if err != nil {
				x.t.abort(errIndex)
				return
			}
			x.t.guard(func() { then(inOrder(blocks), others) })
		})
	})
}

func inOrder(blocks map[int]*postings.Block) []*postings.Block {
	var list []*postings.Block
	for _, n := range slices.Sorted(maps.Keys(blocks)) {
		list = append(list, blocks[n])
	}
	return list
}
