package postings_test

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"torchside/storage"
	"torchside/storage/postings"
	"torchside/storage/storagetest"
)

// shelf keeps a directory and its blocks as bytes, as a store does.
type shelf struct {
	t    testing.TB
	dir  postings.Directory
	rows map[int][]byte
	rev  uint64
}

func (s *shelf) change(changes ...postings.Change) {
	s.t.Helper()
	touched := s.dir.Touched(changes)
	next, put, drop := s.dir.Plan(changes, func(n int) *postings.Block {
		if !slices.Contains(touched, n) {
			s.t.Fatalf("block %d is asked for, but was not named", n)
		}
		return s.block(s.dir.Blocks[n].Key)
	}, func() uint64 { s.rev++; return s.rev })
	for _, key := range drop {
		delete(s.rows, key)
	}
	for _, w := range put {
		s.rows[w.Key] = w.Block.Encode()
	}
	s.dir = next
}

func (s *shelf) block(key int) *postings.Block {
	s.t.Helper()
	b, err := postings.Decode(s.rows[key])
	if err != nil {
		s.t.Fatalf("block %d: %v", key, err)
	}
	return b
}

func (s *shelf) blocks() []*postings.Block {
	var all []*postings.Block
	for _, ref := range s.dir.Blocks {
		all = append(all, s.block(ref.Key))
	}
	return all
}

// sound checks what every directory must keep.
func (s *shelf) sound(model map[storage.ID]postings.Change) {
	s.t.Helper()
	count := 0
	for i, ref := range s.dir.Blocks {
		b := s.block(ref.Key)
		count += len(b.Records)
		if len(b.Records) != ref.Count || ref.Count == 0 || ref.Count > postings.Size {
			s.t.Fatalf("block %d has %d records, the directory says %d", i, len(b.Records), ref.Count)
		}
		if (i == 0) != (ref.First == "") || b.Records[0].ID < ref.First {
			s.t.Fatalf("block %d begins with %s, the directory says %q", i, b.Records[0].ID, ref.First)
		}
		if i > 0 && s.dir.Blocks[i-1].First >= ref.First {
			s.t.Fatalf("block %d is not after the one before", i)
		}
	}
	if count != len(model) || len(s.rows) != len(s.dir.Blocks) {
		s.t.Fatalf("%d records in %d rows, want %d in %d", count, len(s.rows), len(model), len(s.dir.Blocks))
	}
}

// plain answers a question from the model.
func plain(model map[storage.ID]postings.Change, f storage.Find) (page []postings.Record, total int) {
	for _, c := range model {
		if f.Wants(storage.Entry{Sort: c.Sort, Terms: c.Terms}) {
			total++
			if f.Behind(c.Place()) {
				page = append(page, c.Record)
			}
		}
	}
	slices.SortFunc(page, func(a, b postings.Record) int { return a.Place().Compare(b.Place()) })
	if f.Newest {
		slices.Reverse(page)
	}
	return page, total
}

var words = []string{"a", "ab", "abc", "b", "c=1", "c=2", "ö", "öl"}

// randomChange makes, moves or removes a record.
func randomChange(r *rand.Rand, ids []storage.ID) postings.Change {
	c := postings.Change{Record: postings.Record{
		ID: ids[r.IntN(len(ids))], Sort: fmt.Sprintf("%02d", r.IntN(12)), Conflict: storage.Conflict(r.IntN(3)), Brief: strings.Repeat("ü\x00", r.IntN(200)),
	}, Gone: r.IntN(4) == 0}
	for _, w := range words {
		if r.IntN(3) == 0 {
			c.Terms = append(c.Terms, w)
		}
	}
	return c
}

func randomFind(r *rand.Rand) storage.Find {
	f := storage.Find{Kind: "x", Newest: r.IntN(2) == 0, Limit: 1 + r.IntN(40)}
	if r.IntN(5) == 0 {
		f.Limit = 5000
	}
	for range r.IntN(3) {
		f.Terms = append(f.Terms, words[r.IntN(len(words))])
	}
	if r.IntN(3) == 0 {
		f.Prefix = []string{"a", "ab", "c=", "ö", "x"}[r.IntN(5)]
	}
	if r.IntN(3) == 0 {
		f.From = fmt.Sprintf("%02d", r.IntN(12))
	}
	if r.IntN(3) == 0 {
		f.Before = fmt.Sprintf("%02d", r.IntN(13))
	}
	if r.IntN(2) == 0 {
		f.After = storage.Cursor{Sort: fmt.Sprintf("%02d", r.IntN(12)), ID: "0195936f"}
	}
	return f.Cut()
}

func TestPlan_and_Search_agree_with_a_plain_map(t *testing.T) {
	for seed := range uint64(4) {
		src := storagetest.NewSource(seed)
		r := rand.New(src)
		var ids []storage.ID
		for range 900 {
			ids = append(ids, src.ID(r.Int64N(1e12)))
		}
		s, model := &shelf{t: t, rows: make(map[int][]byte)}, make(map[storage.ID]postings.Change)
		for round := range 60 {
			var changes []postings.Change
			for range 1 + r.IntN(1+round*6) {
				changes = append(changes, randomChange(r, ids))
			}
			if round%20 == 19 { // nearly all go
				for _, id := range ids[:850] {
					changes = append(changes, postings.Change{Record: postings.Record{ID: id}, Gone: true})
				}
			}
			s.change(changes...)
			for _, c := range changes {
				if model[c.ID] = c; c.Gone {
					delete(model, c.ID)
				}
			}
			s.sound(model)
			for range 5 {
				checkFind(t, s, model, randomFind(r))
			}
		}
	}
}

func checkFind(t *testing.T, s *shelf, model map[storage.ID]postings.Change, f storage.Find) {
	t.Helper()
	needed, others := s.dir.Needed(f)
	var some []*postings.Block
	for _, n := range needed {
		some = append(some, s.block(s.dir.Blocks[n].Key))
	}
	got, total, more := postings.Search(some, f)
	total += others
	want, wantTotal := plain(model, f)
	if total != wantTotal || more != (len(want) > f.Limit) || !slices.Equal(got, want[:min(f.Limit, len(want))]) {
		t.Fatalf("%+v: %d of %d, more %v; want %d of %d", f, len(got), total, more, len(want), wantTotal)
	}
	counts := make(map[string]int)
	for _, c := range model {
		for _, term := range c.Terms {
			if strings.HasPrefix(term, f.Prefix) {
				counts[term]++
			}
		}
	}
	terms := postings.Terms(s.blocks(), f.Prefix)
	if !slices.IsSortedFunc(terms, func(a, b storage.TermCount) int { return strings.Compare(a.Term, b.Term) }) || len(terms) != len(counts) {
		t.Fatalf("terms %v, want %v", terms, counts)
	}
	for _, c := range terms {
		if counts[c.Term] != c.Count {
			t.Fatalf("%s is counted %d, want %d", c.Term, c.Count, counts[c.Term])
		}
	}
}

// A list that opens must not read the index of years.
func TestNeeded_is_one_or_two_blocks_for_a_page_without_filters(t *testing.T) {
	src := storagetest.NewSource(8)
	s := &shelf{t: t, rows: make(map[int][]byte)}
	var lot []postings.Change
	for i := range 5000 {
		lot = append(lot, postings.Change{Record: postings.Record{ID: src.ID(int64(i)), Sort: fmt.Sprintf("%05d", i)}, Terms: []string{"t"}})
	}
	s.change(lot...)
	for _, c := range []struct {
		find   storage.Find
		most   int
		others int
	}{
		{storage.Find{Limit: 30, Newest: true}, 1, 4875},
		{storage.Find{Limit: 30}, 1, 4875},
		{storage.Find{Limit: 30, Newest: true, After: storage.Cursor{Sort: "02500"}}, 2, 4750},
		{storage.Find{Limit: 600}, 5, 4375},
		{storage.Find{Limit: 30, From: "01010", Before: "01020"}, 1, 0},
		{storage.Find{Limit: 30, Terms: []string{"t"}}, 40, 0},
	} {
		numbers, others := s.dir.Needed(c.find)
		if len(numbers) > c.most || others != c.others {
			t.Errorf("%+v needs blocks %v beside %d records, want %d blocks beside %d", c.find, numbers, others, c.most, c.others)
		}
	}
}

// A day's new records must not touch the index of years.
func TestPlan_writes_only_the_last_block_for_new_records(t *testing.T) {
	src := storagetest.NewSource(9)
	s := &shelf{t: t, rows: make(map[int][]byte)}
	milli := int64(0)
	for range 40 {
		var lot []postings.Change
		for range 100 {
			milli += 1000
			lot = append(lot, postings.Change{Record: postings.Record{ID: src.ID(milli)}, Terms: []string{"t"}})
		}
		before := s.rev
		s.change(lot...)
		if s.rev-before > 2 {
			t.Fatalf("%d blocks were written for records that are all new", s.rev-before)
		}
	}
	if n := len(s.dir.Blocks); n > 2*4000/postings.Size+1 {
		t.Errorf("4000 records take %d blocks", n)
	}
}

func TestDecode_refuses_what_Encode_does_not_write(t *testing.T) {
	s := &shelf{t: t, rows: make(map[int][]byte)}
	src := storagetest.NewSource(3)
	for i := range int64(20) {
		s.change(postings.Change{Record: postings.Record{ID: src.ID(i), Sort: "s", Brief: "{}"}, Terms: []string{"a", fmt.Sprint(i)}})
	}
	good := s.rows[0]
	for _, bad := range [][]byte{nil, {}, {1, 0, 0}, good[:30], {2, 0xff, 0xff, 0xff, 0xff, 0x7f}} {
		if _, err := postings.Decode(bad); !errors.Is(err, storage.ErrCorrupt) {
			t.Errorf("%d bytes: %v, want ErrCorrupt", len(bad), err)
		}
	}
}

func FuzzDecode_never_panics_and_reads_only_what_can_be_searched(f *testing.F) {
	s := &shelf{t: f, rows: make(map[int][]byte)}
	src := storagetest.NewSource(4)
	for i := range int64(5) {
		s.change(postings.Change{Record: postings.Record{ID: src.ID(i), Sort: "s", Brief: "{}"}, Terms: []string{"a", fmt.Sprint(i)}})
	}
	f.Add(s.rows[0])
	f.Add([]byte{2, 0, 0})
	f.Fuzz(func(t *testing.T, data []byte) {
		b, err := postings.Decode(data)
		if err != nil {
			return
		}
		if again, err := postings.Decode(b.Encode()); err != nil || len(again.Records) != len(b.Records) {
			t.Errorf("read, but not the same when written again: %v", err)
		}
		postings.Search([]*postings.Block{b}, storage.Find{Kind: "x", Limit: 3, Prefix: "a", Terms: []string{"a"}})
		b.With([]postings.Change{{Record: postings.Record{ID: "x"}, Terms: []string{"a"}}})
	})
}
