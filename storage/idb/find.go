//go:build js

package idb

import (
	"context"
	"fmt"
	"slices"
	"sort"
	"syscall/js"

	"torchside/storage"
)

// Find implements storage.Store. It reads keys of the index only, and then the
// bodies (or briefs) of the one page.
func (s *Store) Find(ctx context.Context, f storage.Find) (storage.Page, error) {
	if err := f.Check(); err != nil {
		return storage.Page{}, err
	}
	if f.Before != "" && f.From >= f.Before {
		return storage.Page{}, ctx.Err() // the browser takes such a range for a mistake
	}
	var q *finding
	err := s.run(ctx, false, []any{termsStore, briefsStore, headsStore, metaStore}, func(t *tx) {
		q = &finding{t: t, Find: f.Cut()}
		q.start(s.index.Version)
	})
	if err != nil {
		return storage.Page{}, err
	}
	return q.page, nil
}

// finding is one Find in its transaction.
type finding struct {
	storage.Find
	t    *tx
	page storage.Page
}

// start asks for the keys of every list that counts. The first one gives the
// order: it is asked for in three parts, so that the place of After is known
// even when its record has moved or gone.
func (q *finding) start(version int) {
	order, others := termKey(q.Kind, ""), []string(nil)
	if len(q.Terms) > 0 {
		order, others = termKey(q.Kind, q.Terms[0]), q.Terms[1:]
	}
	reads := []js.Value{q.t.store(metaStore).Call("get", indexKey)}
	index := q.t.store(termsStore).Call("index", keysIndex)
	for _, r := range q.parts(order) {
		reads = append(reads, index.Call("getAllKeys", r))
	}
	for _, term := range others {
		reads = append(reads, index.Call("getAllKeys", q.within(termKey(q.Kind, term))))
	}
	if q.Prefix != "" {
		reads = append(reads, index.Call("getAllKeys", beginning(termKey(q.Kind, q.Prefix))))
	}
	q.t.all(reads, func(results []js.Value) {
		state, known := readIndexState(results[0])
		q.page.Partial = !known || !state.Done || state.Version != version
		q.match(results[1:4], results[4:])
	})
}

// upper is above every key of one term: an array is above every string.
func upper(key string) []any { return []any{key, []any{}} }

// within is the range of one term's keys between From and Before.
func (q *finding) within(key string) js.Value {
	if q.Before != "" {
		return keyRange().Call("bound", []any{key, q.From}, []any{key, q.Before}, false, true)
	}
	return keyRange().Call("bound", []any{key, q.From}, upper(key), false, true)
}

// beginning is the range of the keys of all terms with a prefix.
func beginning(key string) js.Value {
	return keyRange().Call("bound", []any{key}, []any{key + "\uffff"}, false, true)
}

// parts divides the range of the ordering term: below the Sort of After, at
// it, and above it. An After outside of From and Before leaves parts empty.
func (q *finding) parts(key string) [3]js.Value {
	from, at := q.From, q.After.Sort
	to := any([]any{})
	if q.Before != "" {
		to = q.Before
	}
	if at < from || q.After == (storage.Cursor{}) {
		return [3]js.Value{empty(), empty(), q.within(key)}
	}
	if q.Before != "" && at >= q.Before {
		return [3]js.Value{q.within(key), empty(), empty()}
	}
	below := empty()
	if from < at {
		below = keyRange().Call("bound", []any{key, from}, []any{key, at}, false, true)
	}
	return [3]js.Value{
		below,
		keyRange().Call("only", []any{key, at}),
		keyRange().Call("bound", []any{key, at}, []any{key, to}, true, true),
	}
}

// empty is a range that holds no key: keys of the index are arrays.
func empty() js.Value { return keyRange().Call("only", "") }

// match keeps what all lists have, ascending, and picks the page.
func (q *finding) match(order, others []js.Value) {
	var sets []map[storage.ID]bool
	for _, keys := range others {
		sets = append(sets, setOf(idsOf(keys)))
	}
	missing := func(id storage.ID) bool {
		return slices.ContainsFunc(sets, func(set map[storage.ID]bool) bool { return !set[id] })
	}
	below := slices.DeleteFunc(idsOf(order[0]), missing)
	at := slices.DeleteFunc(idsOf(order[1]), missing)
	above := slices.DeleteFunc(idsOf(order[2]), missing)
	all := slices.Concat(below, at, above)
	q.page.Total = len(all)
	q.show(q.pick(all, len(below), at))
}

// pick returns the ids of the page, in the order asked for, and whether more
// follow. below is how many are below the Sort of After; at are those at it.
func (q *finding) pick(all []storage.ID, below int, at []storage.ID) (ids []storage.ID, more bool) {
	start := storage.Cursor{}
	if !q.Newest {
		if q.After != start {
			all = all[below+sort.Search(len(at), func(i int) bool { return at[i] > q.After.ID }):]
		}
		n := min(q.Limit, len(all))
		return all[:n], n < len(all)
	}
	if q.After != start {
		all = all[:below+sort.Search(len(at), func(i int) bool { return at[i] >= q.After.ID })]
	}
	n := min(q.Limit, len(all))
	ids = slices.Clone(all[len(all)-n:])
	slices.Reverse(ids)
	return ids, n < len(all)
}

// show reads the page, and the Sort of its last record where more follow.
func (q *finding) show(ids []storage.ID, more bool) {
	if more {
		last := ids[len(ids)-1]
		q.t.then(q.t.store(termsStore).Call("get", string(last)), func(row js.Value) {
			q.page.Next = storage.Cursor{Sort: row.Get("sort").String(), ID: last}
		})
	}
	switch {
	case !q.Briefs:
		q.records(ids)
	case len(ids) <= briefGets:
		q.briefs(ids)
	default:
		q.allBriefs(ids)
	}
}

// records reads whole records.
func (q *finding) records(ids []storage.ID) {
	heads := q.t.store(headsStore)
	reads := make([]js.Value, 0, len(ids))
	for _, id := range ids {
		reads = append(reads, heads.Call("get", string(id)))
	}
	q.t.all(reads, func(rows []js.Value) {
		for _, row := range rows {
			heads, err := readHeads(row)
			if err != nil {
				q.t.abort(err)
				return
			}
			q.page.Records = append(q.page.Records, storage.NewRecord(heads))
		}
	})
}

// briefGets is up to how many briefs are got one by one; for more it is faster
// to read those of the whole kind.
const briefGets = 200

// briefs reads briefs one by one.
func (q *finding) briefs(ids []storage.ID) {
	terms, store := q.t.store(termsStore), q.t.store(briefsStore)
	reads := make([]js.Value, 0, len(ids))
	for _, id := range ids {
		reads = append(reads, terms.Call("get", string(id)))
	}
	q.t.all(reads, func(rows []js.Value) {
		reads := make([]js.Value, 0, len(rows))
		for i, row := range rows {
			reads = append(reads, store.Call("get", []any{q.Kind, row.Get("sort"), string(ids[i])}))
		}
		q.t.all(reads, func(lines []js.Value) {
			for _, line := range lines {
				q.addBrief(line.String())
			}
		})
	})
}

func (q *finding) addBrief(line string) {
	b, ok := readBrief(line)
	if !ok {
		q.t.abort(fmt.Errorf("stored brief %q: %w", line, storage.ErrCorrupt))
		return
	}
	q.page.Briefs = append(q.page.Briefs, b)
}

// allBriefs reads the lines of the whole kind and adds those of the page.
func (q *finding) allBriefs(ids []storage.ID) {
	from, to := []any{q.Kind, q.From}, any([]any{})
	if q.Before != "" {
		to = q.Before
	}
	within := keyRange().Call("bound", from, []any{q.Kind, to}, false, true)
	q.t.then(q.t.store(briefsStore).Call("getAll", within), func(rows js.Value) {
		lines := make(map[storage.ID]string, rows.Length())
		for _, line := range joined(rows) {
			lines[storage.ID(line[:min(idText, len(line))])] = line
		}
		for _, id := range ids {
			q.addBrief(lines[id])
		}
	})
}
