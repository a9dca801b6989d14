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

// Every function has the data it had, whole, wherever they lie now; what only traces read is gone. No
// datum reaches into the next one: their lengths are read as the runtime reads them.
func TestThin_lays_the_data_of_functions_anew(t *testing.T) {
	whole := smallProgram(t)
	thinned, err := thin(whole)
	if err != nil {
		t.Fatal(err)
	}
	before, after := mapOf(t, whole), mapOf(t, thinned)
	starts := dataStarts(t, before)
	kept := map[int]int{}
	for i := range before.word(mapIndex+1) - 1 {
		was, is := functionData(t, before, i), functionData(t, after, i)
		for d := range was {
			if d == dataInlined || d == dataArguments || d == dataLiveness {
				if is[d] != noData {
					t.Fatalf("function %d keeps data %d", i, d)
				}
				continue
			}
			if was[d] == noData || is[d] == noData {
				if was[d] != is[d] {
					t.Fatalf("function %d had no data %d, or has lost them", i, d)
				}
				continue
			}
			old, now := datum(t, before, was[d], d), datum(t, after, is[d], d)
			if !bytes.Equal(old, now) {
				t.Fatalf("data %d of function %d (%s) have changed", d, i, nameOf(t, before, i))
			}
			// The linker leaves no more than zeros to the end of a word between two: a length read too short would show here.
			at, _ := slices.BinarySearch(starts, was[d])
			if at+1 < len(starts) {
				end, next := was[d]+uint32(len(old)), starts[at+1]
				area := before.memory[before.word(mapFunctionData):]
				if end > next || next-end >= 8 || len(bytes.Trim(area[end:next], "\x00")) > 0 {
					t.Fatalf("data %d of function %d end at %d, those behind begin at %d", d, i, end, next)
				}
			}
			if int(is[d])%dataAlign[d] != 0 {
				t.Fatalf("data %d of function %d stand at %d", d, i, is[d])
			}
			kept[d]++
		}
	}
	if kept[dataArgumentMaps] < 500 || kept[dataLocalMaps] < 500 || kept[dataObjects] < 100 || kept[dataDeferred] == 0 {
		t.Errorf("too few to be all: %v", kept)
	}
}

// dataStarts are the offsets of all data of all functions, in rising order.
func dataStarts(t *testing.T, m memoryMap) []uint32 {
	t.Helper()
	var starts []uint32
	for i := range m.word(mapIndex+1) - 1 {
		for _, offset := range functionData(t, m, i) {
			if offset != noData {
				starts = append(starts, offset)
			}
		}
	}
	slices.Sort(starts)
	return slices.Compact(starts)
}

func datum(t *testing.T, m memoryMap, offset uint32, kind int) []byte {
	t.Helper()
	area := m.memory[m.word(mapFunctionData):m.word(mapTableEnd)]
	length, err := dataLength(area, int(offset), kind)
	if err != nil {
		t.Fatal(err)
	}
	return area[offset : int(offset)+length]
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
