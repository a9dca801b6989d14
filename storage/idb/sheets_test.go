//go:build js

package idb

import (
	"context"
	"fmt"
	"math/rand/v2"
	"runtime"
	"slices"
	"strings"
	"syscall/js"
	"testing"
	"time"

	"torchside/storage"
	"torchside/storage/storagetest"
)

// manySheets is how many sheets the benchmarks of finding work on: five a day
// for eleven years.
const manySheets = 20_000

// sheetIndex reads what sheetBody writes: a Sort, filters, words, a brief.
var sheetIndex = storage.Index{Version: 1, Of: func(_ string, body []byte) storage.Entry {
	part := strings.Split(string(body), "|")
	if len(part) != 5 {
		return storage.Entry{}
	}
	return storage.Entry{Sort: part[0], Terms: append(strings.Fields(part[1]), strings.Fields(part[2])...), Brief: []byte(part[3])}
}}

// sheetBody is an invented sheet: about 2 kB, eight filters and some thirty
// words of a thousand, the first ones far more often than the last.
func sheetBody(r *rand.Rand, i int) []byte {
	var words []string
	for range 30 {
		words = append(words, fmt.Sprintf("~word%c%03d", 'a'+rune(r.IntN(6)), int(1000*r.Float64()*r.Float64()*r.Float64())))
	}
	at := time.UnixMilli(int64(i) * 5 * 3600e3).UTC().Format(storage.AtLayout)
	filters := fmt.Sprintf("tip=%d metal=%d joint=%d work=%d position=%d done=yes drill=%d thickness=%d",
		r.IntN(8), r.IntN(4), r.IntN(5), r.IntN(4), r.IntN(4), r.IntN(17), r.IntN(6))
	brief := fmt.Sprintf(`{"at":%q,"title":"sheet %d","tip":"%d","metal":"mild steel","scores":{"width":%d,"ripple":%d},"overall":%d}`,
		at, i, r.IntN(8), r.IntN(6), r.IntN(6), r.IntN(100))
	return fmt.Appendf(nil, "%s|%s|%s|%s|%s", at, filters, strings.Join(words, " "), brief, strings.Repeat("0123456789", 120))
}

// sheetOps are so many sheets, one op each, by ascending id.
func sheetOps(n int) []storage.Op {
	src := storagetest.NewSource(77)
	r := rand.New(src)
	dev := src.ID(1)
	ops := make([]storage.Op, n)
	for i := range ops {
		milli := int64(i) * 5 * 3600e3
		ops[i] = storage.Op{
			ID: src.ID(milli), Rec: src.ID(milli), Kind: "sheet", Schema: 1, Dev: dev, N: uint64(i + 1), HLC: storage.HLC{Milli: milli},
			At: time.UnixMilli(milli).UTC().Format(storage.AtLayout), Body: sheetBody(r, i),
		}
	}
	return ops
}

// sheets is the store of the benchmarks, filled once.
var sheets *Store

// filledSheets imports the sheets in lots, as an archive is read in.
func filledSheets(b *testing.B) *Store {
	b.Helper()
	if sheets != nil {
		return sheets
	}
	s, err := Open(context.Background(), freshName(), sheetIndex)
	if err != nil {
		b.Fatal(err)
	}
	ops := sheetOps(manySheets)
	start := time.Now()
	for lot := range slices.Chunk(ops, 200) {
		if _, err := s.Append(context.Background(), lot...); err != nil {
			b.Fatal(err)
		}
	}
	took := time.Since(start)
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	fmt.Printf("import of %d sheets in lots of 200: %.1f s, %.0f a second, %.0f MB of memory taken from the browser\n",
		manySheets, took.Seconds(), manySheets/took.Seconds(), float64(m.Sys)/1e6)
	sheets = s
	return s
}

// questions are what a journal asks: the list as it opens, filters, the word
// being typed, the menus, the trends.
var questions = []struct {
	name string
	find storage.Find
}{
	{"first_page", storage.Find{Limit: 30, Newest: true}},
	{"page_in_the_middle", storage.Find{Limit: 30, Newest: true, After: storage.Cursor{Sort: "1975"}}},
	{"one_filter", storage.Find{Limit: 30, Newest: true, Terms: []string{"metal=1"}}},
	{"two_filters", storage.Find{Limit: 30, Newest: true, Terms: []string{"tip=3", "metal=1"}}},
	{"two_filters_and_a_word", storage.Find{Limit: 30, Newest: true, Terms: []string{"tip=3", "metal=1", "~worda001"}}},
	{"filter_that_all_have", storage.Find{Limit: 30, Newest: true, Terms: []string{"done=yes", "metal=1"}}},
	{"beginning_of_a_rare_word", storage.Find{Limit: 30, Newest: true, Prefix: "~wordb9"}},
	{"beginning_of_many_words", storage.Find{Limit: 30, Newest: true, Prefix: "~worda0"}},
	{"beginning_that_all_have", storage.Find{Limit: 30, Newest: true, Prefix: "~w"}},
	{"briefs_first_page", storage.Find{Limit: 50, Newest: true, Briefs: true}},
	{"briefs_of_a_filter", storage.Find{Limit: manySheets, Briefs: true, Terms: []string{"tip=3", "metal=1"}}},
	{"briefs_of_all", storage.Find{Limit: manySheets, Briefs: true}},
}

func BenchmarkStore_Find_20000(b *testing.B) { benchFind(b, 1) }

// As on a slow phone: the page at a quarter of its speed.
func BenchmarkStore_Find_20000_slow(b *testing.B) { benchFind(b, 4) }

func benchFind(b *testing.B, times int) {
	s := filledSheets(b)
	slowDown(b, times)
	defer slowDown(b, 1)
	for _, q := range questions {
		q.find.Kind = "sheet"
		b.Run(q.name, func(b *testing.B) {
			total := 0
			for b.Loop() {
				page, err := s.Find(context.Background(), q.find)
				if err != nil || page.Total == 0 || page.Partial {
					b.Fatalf("%+v, %v", page, err)
				}
				total = page.Total
			}
			b.ReportMetric(float64(b.Elapsed().Milliseconds())/float64(b.N), "ms/question")
			b.ReportMetric(float64(total), "matches")
		})
	}
	for _, q := range []storage.Find{{Limit: 30, Newest: true}, {Limit: 30, Newest: true, Terms: []string{"tip=3", "metal=1"}}} {
		q.Kind = "sheet"
		b.Run(fmt.Sprintf("first_page_after_opening_with_%d_filters", len(q.Terms)), func(b *testing.B) {
			for b.Loop() {
				s.known = known{}
				if page, err := s.Find(context.Background(), q); err != nil || len(page.Records) != 30 {
					b.Fatal(page, err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Milliseconds())/float64(b.N), "ms/question")
		})
	}
	b.Run("save_one_more", func(b *testing.B) {
		author, r := storage.NewAuthor(s, time.Now, storagetest.NewSource(1)), rand.New(storagetest.NewSource(2))
		for b.Loop() {
			if _, err := author.Save(context.Background(), "sheet", 1, sheetBody(r, manySheets)); err != nil {
				b.Fatal(err)
			}
		}
		b.ReportMetric(float64(b.Elapsed().Milliseconds())/float64(b.N), "ms/save")
	})
	b.Run("terms_of_a_family", func(b *testing.B) {
		for b.Loop() {
			if terms, err := s.Terms(context.Background(), "sheet", "tip="); err != nil || len(terms) != 8 {
				b.Fatal(terms, err)
			}
		}
		b.ReportMetric(float64(b.Elapsed().Milliseconds())/float64(b.N), "ms/question")
	})
}

// slowDown has the runner slow the page down, and waits until it is.
func slowDown(b *testing.B, times int) {
	b.Helper()
	js.Global().Call("slowDown", times)
	for !js.Global().Get("slowness").Equal(js.ValueOf(times)) {
		time.Sleep(10 * time.Millisecond)
	}
}
