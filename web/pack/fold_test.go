package main

import (
	"bytes"
	"encoding/binary"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// columnReader reads what appendColumns writes, as pwa/unfold.js does in the browser.
type columnReader struct{ reader }

func (c *columnReader) changes(many int) []uint32 {
	values, last := make([]uint32, many), uint32(0)
	for i := range values {
		n := uint32(c.uint())
		last += n>>1 ^ -(n & 1)
		values[i] = last
	}
	return values
}

func (c *columnReader) column(many int) []uint32 {
	if c.byte() == byChange {
		return c.changes(many)
	}
	different := c.changes(c.uint())
	values, next := make([]uint32, many), 0
	for i := range values {
		n := c.uint()
		if n == 0 {
			next++
			n = next
		}
		values[i] = different[n-1]
	}
	return values
}

// unfolded is the table of functions that the folded section stands for.
func unfolded(body []byte) (at int, written []byte) {
	c := columnReader{reader{b: body}}
	at = int(binary.LittleEndian.Uint32(c.bytes(4)))
	count := int(binary.LittleEndian.Uint32(c.bytes(4)))
	starts := c.column(count + 1)
	rows := make([]row, count)
	for range fixedWords {
		for i, v := range c.column(count) {
			rows[i].words = append(rows[i].words, v)
		}
	}
	tables, data := 0, 0
	for _, r := range rows {
		tables, data = max(tables, r.tables()), max(data, r.data())
	}
	more := func(has func(row) bool) {
		var some []int
		for i, r := range rows {
			if has(r) {
				some = append(some, i)
			}
		}
		for n, v := range c.column(len(some)) {
			rows[some[n]].words = append(rows[some[n]].words, v)
		}
	}
	for n := range tables {
		more(func(r row) bool { return n < r.tables() })
	}
	for n := range data {
		more(func(r row) bool { return n < r.data() })
	}
	written = make([]byte, indexStep*count+4)
	for i, r := range rows {
		written = append(written, make([]byte, aligned(len(written))-len(written))...)
		binary.LittleEndian.PutUint32(written[indexStep*i:], starts[i])
		binary.LittleEndian.PutUint32(written[indexStep*i+4:], uint32(len(written)))
		for _, w := range r.words {
			written = binary.LittleEndian.AppendUint32(written, w)
		}
	}
	binary.LittleEndian.PutUint32(written[indexStep*count:], starts[count])
	return at, written
}

// Put back, the memory is to the byte what it was; nothing but the memory and the new section differs.
func TestFold_loses_nothing(t *testing.T) {
	thinned, err := thin(smallProgram(t))
	if err != nil {
		t.Fatal(err)
	}
	folded, err := fold(thinned)
	if err != nil {
		t.Fatal(err)
	}
	before, err := readModule(thinned)
	if err != nil {
		t.Fatal(err)
	}
	after, err := readModule(folded)
	if err != nil {
		t.Fatal(err)
	}
	last := after.sections[len(after.sections)-1]
	r := reader{b: last.body}
	if name := r.name(); last.id != sectionCustom || name != foldedSection {
		t.Fatalf("the last section is %d %q", last.id, name)
	}
	for i, s := range before.sections {
		if s.id != sectionData && !bytes.Equal(s.body, after.sections[i].body) {
			t.Errorf("section %s has changed", sectionNames[s.id])
		}
	}
	at, table := unfolded(r.b)
	if len(table) < 50000 || len(bytes.Trim(after.memory[at:at+len(table)], "\x00")) > 0 {
		t.Fatalf("a table of %d bytes, which does not stand in zeros", len(table))
	}
	copy(after.memory[at:], table)
	if !bytes.Equal(after.memory, before.memory) {
		t.Fatal("the memory put together again is another one")
	}
	if len(last.body) > len(table)/2 {
		t.Errorf("%d bytes became %d", len(table), len(last.body))
	}
}

func TestAppendColumn_gives_every_word_back(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	for _, values := range [][]uint32{nil, {0}, {1 << 31, 0, 1<<32 - 1, 1 << 31}, slices.Repeat([]uint32{5, 1 << 30, 7}, 100)} {
		for range random.IntN(300) {
			values = append(values, random.Uint32())
		}
		c := columnReader{reader{b: appendColumn(nil, values)}}
		if got := c.column(len(values)); !slices.Equal(got, values) || len(c.b) > 0 || c.err != nil {
			t.Fatalf("%v became %v", values, got)
		}
	}
}

func TestFold_a_table_of_another_form_stops_the_build(t *testing.T) {
	thinned, err := thin(smallProgram(t))
	if err != nil {
		t.Fatal(err)
	}
	whole, err := readModule(thinned)
	if err != nil {
		t.Fatal(err)
	}
	found, err := findMap(whole.memory)
	if err != nil {
		t.Fatal(err)
	}
	for what, change := range map[string]func(memoryMap){
		"entry 3 stands at": func(m memoryMap) { m.memory[m.word(mapEntries)+indexStep*3+4] ^= 8 },
		"is longer than":    func(m memoryMap) { m.memory[m.word(mapEntries)+firstEntry(m)+entryTables+3] = 0x7f },
	} {
		changed := memoryMap{slices.Clone(whole.memory), found.at}
		change(changed)
		if _, err := fold(whole.withMemory(changed.memory)); err == nil || !strings.Contains(err.Error(), what) {
			t.Errorf("wanted an error with %q, got %v", what, err)
		}
	}
}

func firstEntry(m memoryMap) int {
	return int(binary.LittleEndian.Uint32(m.memory[m.word(mapEntries)+4:]))
}
