package main

import (
	"bytes"
	"encoding/binary"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// smallProgram is a Go program for the browser, as the linker leaves it.
func smallProgram(t *testing.T) []byte {
	t.Helper()
	dir := t.TempDir()
	t.Chdir(dir)
	for name, text := range map[string]string{
		"go.mod": "module small\n\ngo 1.26.0\n",
		"main.go": `package main

import (
	"fmt"
	"reflect"
	"strings"
)

func main() {
	defer func() { fmt.Println(recover()) }()
	reflect.MakeFunc(reflect.TypeFor[func()](), func([]reflect.Value) []reflect.Value { return nil }).Interface().(func())()
	fmt.Println(reflect.ValueOf(strings.NewReader("")).Method(0).Interface())
	panic("x")
}
`,
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	wasm, err := buildWasm(".", "-ldflags=-s -w")
	if err != nil {
		t.Fatal(err)
	}
	return wasm
}

func mapOf(t *testing.T, wasm []byte) memoryMap {
	t.Helper()
	m, err := readModule(wasm)
	if err != nil {
		t.Fatal(err)
	}
	found, err := findMap(m.memory)
	if err != nil {
		t.Fatal(err)
	}
	return found
}

// tables are all tables by program counter of a function, its frame sizes first; nil where there is none.
func tables(t *testing.T, m memoryMap, i int) [][]byte {
	t.Helper()
	entry, err := m.entry(i)
	if err != nil {
		t.Fatal(err)
	}
	places := []int{entryFrames, entryFiles, entryLines}
	for n := range int(binary.LittleEndian.Uint32(entry[entryTables:])) {
		places = append(places, entryTableStart+4*n)
	}
	all := m.memory[m.word(mapCounters) : m.word(mapCounters)+m.word(mapCounters+1)]
	var found [][]byte
	for _, place := range places {
		offset := int(binary.LittleEndian.Uint32(entry[place:]))
		if offset == 0 {
			found = append(found, nil)
			continue
		}
		table, err := counterTable(all, offset)
		if err != nil {
			t.Fatal(err)
		}
		found = append(found, table)
	}
	return found
}

// What the collector, recover and stack growth read must be there unchanged, for every function.
func TestThin_drops_lines_and_nothing_that_the_runtime_needs(t *testing.T) {
	whole := smallProgram(t)
	thinned, err := thin(whole)
	if err != nil {
		t.Fatal(err)
	}
	before, after := mapOf(t, whole), mapOf(t, thinned)
	count := before.word(mapIndex+1) - 1
	if count < 1000 || after.word(mapIndex+1)-1 != count {
		t.Fatalf("%d functions became %d", count, after.word(mapIndex+1)-1)
	}
	lines := 0
	for i := range count {
		was, is := tables(t, before, i), tables(t, after, i)
		if len(was[2]) > 0 {
			lines++
		}
		was[1], was[2] = nil, nil // files, lines
		for _, gone := range []int{tableInterrupts, tableInlined, tableArguments} {
			if len(was) > 3+gone {
				was[3+gone] = nil
			}
		}
		if !slices.EqualFunc(was, is, bytes.Equal) {
			t.Fatalf("function %d has other tables now", i)
		}
	}
	if lines < 1000 {
		t.Errorf("only %d functions had lines before: the field is not where it is looked for", lines)
	}
}

// Every byte of the memory that is not part of the table of functions, nor of their data, stays where and what it was.
func TestThin_changes_the_table_of_functions_and_what_it_points_to(t *testing.T) {
	whole := smallProgram(t)
	thinned, err := thin(whole)
	if err != nil {
		t.Fatal(err)
	}
	before, after := mapOf(t, whole), mapOf(t, thinned)
	start, end := before.word(mapNames), before.word(mapTableEnd)
	if len(before.memory) != len(after.memory) {
		t.Fatalf("%d bytes of memory became %d", len(before.memory), len(after.memory))
	}
	for at := range before.memory {
		if before.memory[at] != after.memory[at] && (at < start || at >= end) {
			t.Fatalf("byte %d, not of the table of functions, has changed", at)
		}
	}
	old, err := readModule(whole)
	if err != nil {
		t.Fatal(err)
	}
	thinModule, err := readModule(thinned)
	if err != nil {
		t.Fatal(err)
	}
	for i, s := range thinModule.sections {
		if s.id != old.sections[i].id || s.id != sectionData && !bytes.Equal(s.body, old.sections[i].body) {
			t.Errorf("section %d has changed", i)
		}
	}
}

// Browsers refuse a program of more than 100,000 segments.
func TestDataSegments_give_the_memory_back_in_few_segments(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for range 50 {
		memory := make([]byte, random.IntN(20000))
		for i := 0; i < len(memory); i += 1 + random.IntN(600) {
			memory[i] = byte(random.IntN(256))
		}
		written := dataSegments(memory)
		r := reader{b: written}
		again := memoryOf(&r)
		if r.err != nil || len(r.b) != 0 || len(again) > len(memory) {
			t.Fatalf("%v, %d bytes left, %d of %d", r.err, len(r.b), len(again), len(memory))
		}
		if again = append(again, make([]byte, len(memory)-len(again))...); !bytes.Equal(again, memory) {
			t.Fatal("the memory has changed")
		}
		if n, _ := binary.Uvarint(written); int(n) > 1+len(memory)/shortestGap {
			t.Fatalf("%d segments for %d bytes", n, len(memory))
		}
	}
}

func TestThin_a_file_of_another_make_stops_the_build(t *testing.T) {
	whole := smallProgram(t)
	m := mapOf(t, whole)
	moved := slices.Clone(m.memory)
	moved[m.at+8*mapUnits]++ // a map in another order
	parsed, err := readModule(whole)
	if err != nil {
		t.Fatal(err)
	}
	for what, file := range map[string][]byte{
		"go1.26":               parsed.withMemory(moved),
		"not a wasm module":    []byte("MZ"),
		"section":              whole[:len(whole)/2],
		errNoMap.Error():       parsed.withMemory(make([]byte, 100)),
		"where go1.26 puts it": parsed.withMemory(append([]byte(tableMagic), make([]byte, 400)...)),
	} {
		if _, err := thin(file); err == nil || !strings.Contains(err.Error(), what) {
			t.Errorf("wanted an error with %q, got %v", what, err)
		}
	}
}

func TestPackageOf_takes_the_package_off_a_symbol(t *testing.T) {
	for symbol, want := range map[string]string{
		"torchside_pwa_state.App.Reduce":                                         "torchside_pwa_state",
		"github.com_maxence_charriere_go_app_v10_pkg_app.nodeManager.updateHTML": "github.com_maxence_charriere_go_app_v10_pkg_app",
		"type__eq.some_type":                                                     "comparing and hashing of types",
		"memeqbody":                                                              "assembly of the runtime",
	} {
		if got := packageOf(symbol); got != want {
			t.Errorf("%s belongs to %s, got %s", symbol, want, got)
		}
	}
}
