//go:build js

package idb

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"syscall/js"

	"torchside/storage"
)

// idsOf reads a list of record ids. All of them cross as one text: twenty
// thousand crossings are what a slow phone has no time for.
func idsOf(keys js.Value) []storage.ID {
	text := keys.Call("join", "").String()
	ids := make([]storage.ID, 0, len(text)/idText)
	for ; len(text) >= idText; text = text[idText:] {
		ids = append(ids, storage.ID(text[:idText]))
	}
	return ids
}

func setOf(ids []storage.ID) map[storage.ID]bool {
	set := make(map[storage.ID]bool, len(ids))
	for _, id := range ids {
		set[id] = true
	}
	return set
}

// joined reads a list of lines.
func joined(lines js.Value) []string {
	if lines.Length() == 0 {
		return nil
	}
	return strings.Split(lines.Call("join", "\n").String(), "\n")
}

// Terms implements storage.Store. A key cursor leaps from term to term.
func (s *Store) Terms(ctx context.Context, kind, prefix string) ([]storage.TermCount, error) {
	if kind == "" {
		return nil, fmt.Errorf("%w: no kind to look for", storage.ErrInvalid)
	}
	var terms []storage.TermCount
	err := s.run(ctx, false, []any{termsStore}, func(t *tx) {
		terms = nil
		index := t.store(termsStore).Call("index", keysIndex)
		request := index.Call("openKeyCursor", beginning(termKey(kind, storage.CutTerm(prefix))))
		t.then(request, func(cursor js.Value) {
			if !cursor.Truthy() {
				return
			}
			key := cursor.Get("key").Index(0).String()
			cursor.Call("continue", upper(key))
			term := strings.TrimPrefix(key, termKey(kind, ""))
			if term == "" {
				return // every record of the kind
			}
			whole := keyRange().Call("bound", []any{key}, upper(key), false, true)
			t.then(index.Call("count", whole), func(n js.Value) {
				terms = append(terms, storage.TermCount{Term: term, Count: n.Int()})
			})
		})
	})
	// The index goes by UTF-16, other stores by bytes.
	slices.SortFunc(terms, func(a, b storage.TermCount) int { return strings.Compare(a.Term, b.Term) })
	return terms, err
}
