package storagetest

import (
	"fmt"
	"strings"

	"torchside/storage"
)

// wild is an indexer that keeps no limit.
func wild(kind string, body []byte) storage.Entry {
	if string(body) == "panic" {
		panic("cannot read this")
	}
	e := storage.Entry{Sort: "é\n" + strings.Repeat("9", 500), Brief: []byte(strings.Repeat("b", storage.MaxBrief+1))}
	if string(body) == "control" {
		e.Brief = []byte("a\nb")
	}
	for i := range 2 * storage.MaxTerms {
		e.Terms = append(e.Terms, fmt.Sprintf("t%d", i))
	}
	return storage.Entry{Sort: e.Sort, Brief: e.Brief, Terms: append([]string{
		"0" + strings.Repeat("ö", storage.MaxTerm), "", "0\xff", "0\x00", "0\n", "0 with space", "0,\"quoted\"",
	}, e.Terms...)}
}

func wildIndexer(b *bench) {
	b.ok(b.store.Close())
	b.index = storage.Index{Version: 9, Of: wild}
	b.store = b.reopened()
	b.author = storage.NewAuthor(b.store, b.clock.Now, NewSource(40))
	var records []storage.Record
	for _, body := range []string{"panic", "control", "large"} {
		rec := b.save(body)
		b.holds(rec)
		records = append(records, rec)
	}
	for _, f := range []storage.Find{
		{Limit: 2},
		{Limit: 5, Terms: []string{"0" + strings.Repeat("ö", storage.MaxTerm)}},
		{Limit: 5, Terms: []string{"0 with space", "0,\"quoted\""}},
		{Limit: 5, Terms: []string{"0\xff"}}, {Limit: 5, Terms: []string{""}}, {Limit: 5, Terms: []string{"0\x00"}},
		{Limit: 5, Prefix: "0"},
	} {
		f.Kind = "torch"
		b.finds(records, f)
	}
	b.counts(records, "torch", "")
}

func newIndexVersion(b *bench) {
	var drafts []storage.Draft
	for i := range 250 { // several pages of making entries anew
		drafts = append(drafts, storage.Draft{Kind: "torch", Schema: 1, Body: fmt.Appendf(nil, "sheet %d", i*i)})
	}
	records, err := b.author.Write(b.Context(), drafts...)
	b.ok(err)
	b.finds(records, storage.Find{Kind: "torch", Limit: 100})
	for _, x := range []storage.Index{Words(2), {}, Words(3)} {
		b.ok(b.store.Close())
		b.index = x
		b.store = b.reopened()
		b.author = storage.NewAuthor(b.store, b.clock.Now, NewSource(uint64(50+x.Version)))
		rec, err := b.author.Update(b.Context(), records[200], 1, fmt.Appendf(nil, "late %d", x.Version)) // while it is made
		b.ok(err)
		records[200] = rec
		b.finds(records, storage.Find{Kind: "torch", Limit: 100})
		b.finds(records, storage.Find{Kind: "torch", Terms: []string{"2sheet"}, Limit: 30})
		b.counts(records, "torch", "")
	}
}
