package storagetest

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"time"

	"torchside/storage"
	"torchside/storage/merge"
)

// bodies returns what a page shows, with spaces between.
func bodies(page storage.Page) string {
	var all []string
	for _, r := range page.Records {
		all = append(all, string(r.Body))
	}
	return strings.Join(all, ", ")
}

func findByTerms(b *bench) {
	for _, body := range []string{"lap steel", "corner steel x", "corner brass", "corner steel", "cornice"} {
		b.save(body)
	}
	for _, c := range []struct {
		find  storage.Find
		want  string
		total int
	}{
		// Words(1) sorts by the length modulo seven: 9→2, 14→0, 12→5, 12→5, 7→0.
		{storage.Find{Limit: 9}, "corner steel x, cornice, lap steel, corner brass, corner steel", 5},
		{storage.Find{Limit: 2}, "corner steel x, cornice", 5},
		{storage.Find{Limit: 2, Newest: true}, "corner steel, corner brass", 5},
		{storage.Find{Limit: 9, Terms: []string{"steel"}}, "corner steel x, lap steel, corner steel", 3},
		{storage.Find{Limit: 9, Terms: []string{"steel", "corner"}}, "corner steel x, corner steel", 2},
		{storage.Find{Limit: 9, Terms: []string{"steel", "corner", "steel", "len=12"}}, "corner steel", 1},
		{storage.Find{Limit: 9, Terms: []string{"corne"}}, "", 0},
		{storage.Find{Limit: 9, Terms: []string{"steel\x00"}}, "", 0},
		{storage.Find{Limit: 9, Prefix: "corn"}, "corner steel x, cornice, corner brass, corner steel", 4},
		{storage.Find{Limit: 9, Prefix: "s", Terms: []string{"lap"}}, "lap steel", 1},
		{storage.Find{Limit: 9, From: "02", Before: "05"}, "lap steel", 1},
		{storage.Find{Limit: 9, From: "05", Before: "02"}, "", 0},
		{storage.Find{Limit: 1, Newest: true, After: storage.Cursor{Sort: "01"}}, "cornice", 5},
	} {
		c.find.Kind = "torch"
		page := b.page(c.find)
		if got := bodies(page); got != c.want || page.Total != c.total {
			b.Errorf("%+v finds %q of %d, want %q of %d", c.find, got, page.Total, c.want, c.total)
		}
	}
	got, err := b.store.Terms(b.Context(), "torch", "corn")
	b.ok(err)
	if want := []storage.TermCount{{Term: "corner", Count: 3}, {Term: "cornice", Count: 1}}; !slices.Equal(got, want) {
		b.Errorf("terms = %v, want %v", got, want)
	}
}

// Whatever is added, moved or deleted meanwhile: a record that stays where it
// is is shown once.
func pagesWhileWriting(b *bench) {
	var stay []storage.ID
	for i := range 40 {
		stay = append(stay, b.save(strings.Repeat("x", i)).ID)
	}
	moving := b.save("moving")
	for _, newest := range []bool{false, true} {
		f := storage.Find{Kind: "torch", Limit: 3, Newest: newest}
		seen := make(map[storage.ID]int)
		for n := 0; ; n++ {
			page := b.page(f)
			for _, r := range page.Records {
				seen[r.ID]++
			}
			if f.After = page.Next; f.After == (storage.Cursor{}) {
				break
			}
			b.save(strings.Repeat("y", n))
			if last := page.Records[len(page.Records)-1]; !slices.Contains(stay, last.ID) {
				_, err := b.author.Delete(b.Context(), last) // the place of the cursor is gone
				b.ok(err)
			}
			moved, err := b.author.Update(b.Context(), b.get(moving.ID), 1, []byte(strings.Repeat("z", n)))
			b.ok(err)
			moving = moved
		}
		for _, id := range stay {
			if seen[id] != 1 {
				b.Errorf("newest %v: a record was shown %d times", newest, seen[id])
			}
		}
	}
}

func findsWhatIsShown(b *bench) {
	found := func(word string) int {
		return b.page(storage.Find{Kind: "torch", Terms: []string{word}, Limit: 5}).Total
	}
	check := func(step string, want map[string]int) {
		b.Helper()
		for word, n := range want {
			if got := found(word); got != n {
				b.Errorf("%s: %q finds %d, want %d", step, word, got, n)
			}
		}
	}
	first := b.save("one")
	_, err := b.author.Update(b.Context(), first, 1, []byte("two"))
	b.ok(err)
	check("after an edit", map[string]int{"one": 0, "two": 1, storage.TermConflict: 0})
	b.clock.Move(time.Second)
	both, err := b.author.Update(b.Context(), first, 1, []byte("three"))
	b.ok(err)
	check("in conflict", map[string]int{"two": 0, "three": 1, storage.TermConflict: 1})
	briefs := b.page(storage.Find{Kind: "torch", Limit: 5, Briefs: true}).Briefs
	if len(briefs) != 1 || briefs[0].Conflict != storage.ConflictEdits {
		b.Errorf("brief of a record in conflict: %+v", briefs)
	}
	gone, err := b.author.Delete(b.Context(), both)
	b.ok(err)
	check("deleted", map[string]int{"two": 0, "three": 0, storage.TermConflict: 0})
	_, err = b.author.Update(b.Context(), gone, 1, []byte("four"))
	b.ok(err)
	check("brought back", map[string]int{"three": 0, "four": 1})
}

func findsImported(b *bench) {
	ops := RandomOps(31, 400)
	for lot := range slices.Chunk(Shuffled(31, ops), 90) {
		_, err := b.store.Append(b.Context(), lot...)
		b.ok(err)
	}
	records := merge.Records(ops)
	b.finds(records, storage.Find{Kind: "hose", Limit: 7, Newest: true})
	b.finds(records, storage.Find{Kind: "torch", Limit: 1000})
	r := rand.New(NewSource(32))
	for range 20 {
		b.randomQuestion(r, records)
	}
}

// randomQuestions asks about many records, more than one page of briefs.
func randomQuestions(b *bench) {
	var records []storage.Record
	r := rand.New(NewSource(33))
	var drafts []storage.Draft
	for range 300 {
		body := fmt.Sprintf("%s %s", vocabulary[r.IntN(len(vocabulary)-1)], strings.Repeat("w", r.IntN(9)))
		drafts = append(drafts, storage.Draft{Kind: "hose", Schema: 1, Body: []byte(body)})
	}
	records, err := b.author.Write(b.Context(), drafts...)
	b.ok(err)
	b.finds(records, storage.Find{Kind: "hose", Limit: 250})
	for range 40 {
		b.randomQuestion(r, records)
	}
}

func badQuestions(b *bench) {
	for _, f := range []storage.Find{{Limit: 1}, {Kind: "torch"}, {Kind: "torch", Limit: -1}} {
		_, err := b.store.Find(b.Context(), f)
		b.fails(err, storage.ErrInvalid)
	}
	_, err := b.store.Terms(b.Context(), "", "x")
	b.fails(err, storage.ErrInvalid)
}
