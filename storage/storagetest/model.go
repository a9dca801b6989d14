package storagetest

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"time"

	"torchside/storage"
)

// Words is an index for any body: its words of letters and digits in lower
// case, its length as "len=…", and one of seven Sorts, so that many records
// stand at the same place. Another version sorts the other way round and puts
// its number before each word.
func Words(version int) storage.Index {
	return storage.Index{Version: version, Of: func(kind string, body []byte) storage.Entry {
		n := len(body) % 7
		prefix := ""
		if version != 1 {
			n, prefix = 6-n, fmt.Sprint(version)
		}
		e := storage.Entry{Sort: fmt.Sprintf("%02d", n), Terms: []string{fmt.Sprintf("len=%d", len(body))}}
		for _, w := range strings.FieldsFunc(strings.ToLower(string(body)), noWord) {
			e.Terms = append(e.Terms, prefix+w)
		}
		e.Brief = fmt.Appendf(nil, `{"kind":%q,"len":%d}`, kind, len(body))
		return e
	}}
}

func noWord(r rune) bool { return !('a' <= r && r <= 'z' || '0' <= r && r <= '9' || r == '½') }

// expected is the plain answer to a question: every place that matches, in the
// order asked for.
func (b *bench) expected(records []storage.Record, f storage.Find) []storage.Cursor {
	var all []storage.Cursor
	for _, r := range records {
		if e := b.index.Entry(r); r.Kind == f.Kind && !r.Deleted && f.Cut().Wants(e) {
			all = append(all, storage.Cursor{Sort: e.Sort, ID: r.ID})
		}
	}
	slices.SortFunc(all, storage.Cursor.Compare)
	if f.Newest {
		slices.Reverse(all)
	}
	return all
}

// finds walks all pages of a question, twice: for records and for briefs.
func (b *bench) finds(records []storage.Record, f storage.Find) {
	b.Helper()
	byID := make(map[storage.ID]storage.Record)
	for _, r := range records {
		byID[r.ID] = r
	}
	want := b.expected(records, f)
	for _, f.Briefs = range []bool{false, true} {
		f.After = storage.Cursor{}
		for i := 0; ; {
			page := b.page(f)
			next := want[i:min(i+f.Limit, len(want))]
			b.samePage(page, next, byID, f)
			i += len(next)
			if page.Total != len(want) || (page.Next == storage.Cursor{}) != (i == len(want)) {
				b.Fatalf("%+v: total %d, next %v after %d of %d", f, page.Total, page.Next, i, len(want))
			}
			if i == len(want) {
				break
			}
			if f.After = page.Next; f.After != want[i-1] {
				b.Fatalf("%+v: next is %v, want %v", f, page.Next, want[i-1])
			}
		}
	}
}

// samePage compares one page with the places it must show.
func (b *bench) samePage(page storage.Page, want []storage.Cursor, byID map[storage.ID]storage.Record, f storage.Find) {
	b.Helper()
	if len(page.Records)+len(page.Briefs) != len(want) {
		b.Fatalf("%+v: %d records and %d briefs, want %d", f, len(page.Records), len(page.Briefs), len(want))
	}
	for i, at := range want {
		rec := byID[at.ID]
		if !f.Briefs {
			if !sameRecord(page.Records[i], rec) {
				b.Fatalf("%+v: record %d is %+v, want %+v", f, i, page.Records[i], rec)
			}
			continue
		}
		got := page.Briefs[i]
		if got.ID != at.ID || got.Sort != at.Sort || got.Conflict != rec.Conflict || !bytes.Equal(got.Data, b.index.Entry(rec).Brief) {
			b.Fatalf("%+v: brief %d is %+v %s, want %+v", f, i, got, got.Data, at)
		}
	}
}

// page asks until the index is whole.
func (b *bench) page(f storage.Find) storage.Page {
	b.Helper()
	for {
		page, err := b.store.Find(b.Context(), f)
		b.ok(err)
		if !page.Partial {
			return page
		}
		time.Sleep(time.Millisecond) // lets the index be made
	}
}

// counts compares the terms of a kind with a plain count.
func (b *bench) counts(records []storage.Record, kind, prefix string) {
	b.Helper()
	want := make(map[string]int)
	for _, r := range records {
		for _, t := range b.index.Entry(r).Terms {
			if r.Kind == kind && !r.Deleted && strings.HasPrefix(t, prefix) {
				want[t]++
			}
		}
	}
	got, err := b.store.Terms(b.Context(), kind, prefix)
	b.ok(err)
	last := ""
	for _, t := range got {
		if want[t.Term] != t.Count || t.Term <= last {
			b.Fatalf("term %q of %s is counted %d after %q, want %d", t.Term, kind, t.Count, last, want[t.Term])
		}
		last = t.Term
	}
	if len(got) != len(want) {
		b.Fatalf("%d terms of %s begin with %q, want %d", len(got), kind, prefix, len(want))
	}
}

// vocabulary are terms that random bodies have, and one that none has.
var vocabulary = []string{"name", "sample", "note", "½", "plain", "text", "edit", "new", "7", "len=13", "never"}

// randomQuestion asks something and compares with the records.
func (b *bench) randomQuestion(r *rand.Rand, records []storage.Record) {
	b.Helper()
	f := storage.Find{Kind: []string{"torch", "hose"}[r.IntN(2)], Newest: r.IntN(2) == 0, Limit: 1 + r.IntN(9)}
	for range r.IntN(3) {
		f.Terms = append(f.Terms, vocabulary[r.IntN(len(vocabulary))])
	}
	if r.IntN(3) == 0 {
		word := []rune(vocabulary[r.IntN(len(vocabulary))])
		f.Prefix = string(word[:1+r.IntN(len(word))])
	}
	if r.IntN(3) == 0 {
		f.From = fmt.Sprintf("%02d", r.IntN(7))
	}
	if r.IntN(3) == 0 {
		f.Before = fmt.Sprintf("%02d", r.IntN(8))
	}
	b.finds(records, f)
	b.counts(records, f.Kind, f.Prefix)
}
