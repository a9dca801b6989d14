package main

import (
	"bytes"
	"encoding/binary"
	"slices"
	"strings"
	"testing"
)

// functionData are the offsets of a function's data, noData where there is none.
func functionData(t *testing.T, m memoryMap, i int) []uint32 {
	t.Helper()
	entry, err := m.entry(i)
	if err != nil {
		t.Fatal(err)
	}
	start := entryTableStart + 4*int(binary.LittleEndian.Uint32(entry[entryTables:]))
	var found []uint32
	for d := range int(entry[entryData]) {
		found = append(found, binary.LittleEndian.Uint32(entry[start+4*d:]))
	}
	return found
}

// treeBytes are the places in memory of all trees of inlined calls.
func treeBytes(t *testing.T, m memoryMap) map[int]bool {
	t.Helper()
	found := map[int]bool{}
	for i := range m.word(mapIndex+1) - 1 {
		data, all := functionData(t, m, i), tables(t, m, i)
		if len(data) <= dataInlined || data[dataInlined] == noData || len(all) <= 3+tableInlined || all[3+tableInlined] == nil {
			continue
		}
		for b := range inlinedCall * (highest(all[3+tableInlined]) + 1) {
			found[m.word(mapFunctionData)+int(data[dataInlined])+b] = true
		}
	}
	return found
}

func nameOf(t *testing.T, m memoryMap, i int) string {
	t.Helper()
	entry, err := m.entry(i)
	if err != nil {
		t.Fatal(err)
	}
	at := m.word(mapNames) + int(binary.LittleEndian.Uint32(entry[entryName:]))
	name, _, _ := bytes.Cut(m.memory[at:], []byte{0})
	return string(name)
}

// The runtime knows functions by name in two places: both must find them, and no other is told apart.
func TestThin_keeps_the_names_the_runtime_asks_for(t *testing.T) {
	whole := smallProgram(t)
	thinned, err := thin(whole)
	if err != nil {
		t.Fatal(err)
	}
	before, after := mapOf(t, whole), mapOf(t, thinned)
	kept, dropped := map[string]bool{}, 0
	for i := range before.word(mapIndex+1) - 1 {
		was, is := nameOf(t, before, i), nameOf(t, after, i)
		asked := strings.HasPrefix(was, "runtime.") || was == "reflect.makeFuncStub" || was == "reflect.methodValueCall"
		switch {
		case asked && is != was:
			t.Fatalf("%s is called %q", was, is)
		case !asked && is != unnamed:
			t.Fatalf("%s is called %q", was, is)
		case asked:
			kept[was] = true
		default:
			dropped++
		}
	}
	if !kept["reflect.makeFuncStub"] || !kept["reflect.methodValueCall"] || !kept["runtime.main"] || dropped < 300 {
		t.Errorf("%d names kept, %d dropped", len(kept), dropped)
	}
}

// The collector's data of every function are where they were, and no cleared tree reaches into them.
func TestThin_clears_trees_and_nothing_beside_them(t *testing.T) {
	whole := smallProgram(t)
	thinned, err := thin(whole)
	if err != nil {
		t.Fatal(err)
	}
	before, after := mapOf(t, whole), mapOf(t, thinned)
	trees := treeBytes(t, before)
	if len(trees) < 100*inlinedCall {
		t.Fatalf("only %d bytes of trees: the field is not where it is looked for", len(trees))
	}
	for i := range before.word(mapIndex+1) - 1 {
		was, is := functionData(t, before, i), functionData(t, after, i)
		for d := range was {
			gone := d == dataInlined || d == dataArguments || d == dataLiveness
			switch {
			case gone && is[d] != noData:
				t.Fatalf("function %d keeps data %d", i, d)
			case !gone && is[d] != was[d]:
				t.Fatalf("data %d of function %d moved", d, i)
			case is[d] != noData && trees[before.word(mapFunctionData)+int(is[d])]:
				t.Fatalf("data %d of function %d (%s) starts in a cleared tree", d, i, nameOf(t, before, i))
			}
		}
	}
}

func TestHighest_reads_a_table_by_program_counter(t *testing.T) {
	zigzag := func(n int) uint64 { return uint64(n<<1) ^ uint64(int64(n)>>63) }
	for _, values := range [][]int{{0}, {0, 1, 0, 5, -1}, {-1, 3, 2}, {-1}} {
		var table []byte
		last := -1
		for _, v := range values {
			table = binary.AppendUvarint(binary.AppendUvarint(table, zigzag(v-last)), 7)
			last = v
		}
		table = append(table, 0)
		if got := highest(table); got != slices.Max(values) {
			t.Errorf("highest of %v: %d", values, got)
		}
	}
}
