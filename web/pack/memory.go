package main

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"slices"
)

// memoryMap is the runtime's own map of the memory at the start (runtime/symtab.go of go1.26, type
// moduledata): where the linker put what.
type memoryMap struct {
	memory []byte
	at     int // of the moduledata
}

// Words of moduledata by their place in it; a slice takes three, its length is the second.
const (
	mapHeader       = 0
	mapNames        = 1
	mapUnits        = 4
	mapFiles        = 7
	mapCounters     = 10
	mapEntries      = 13
	mapIndex        = 16
	mapBuckets      = 19
	mapPlainStart   = 24
	mapPointerStart = 26
	mapTypesStart   = 37
	mapTypesEnd     = 38
	mapConstants    = 39
	mapFunctionData = 40
	mapTableEnd     = 41
	mapWords        = 42
)

// tableMagic opens the table of functions: go1.20 and later, instructions of 1 byte, words of 8.
const tableMagic = "\xf1\xff\xff\xff\x00\x00\x01\x08"

var errNoMap = errors.New("the runtime's map of the memory is not where go1.26 puts it")

// findMap looks for the word that points to the table of functions and is followed by the table's
// first part, whose place the table's header names too.
func findMap(memory []byte) (memoryMap, error) {
	header := bytes.Index(memory, []byte(tableMagic))
	if header < 0 {
		return memoryMap{}, errNoMap
	}
	for at := 0; at+8*mapWords <= len(memory); at += 8 {
		if binary.LittleEndian.Uint64(memory[at:]) != uint64(header) {
			continue
		}
		m := memoryMap{memory, at}
		if err := m.check(); err == nil {
			return m, nil
		}
	}
	return memoryMap{}, errNoMap
}

func (m memoryMap) word(i int) int { return int(binary.LittleEndian.Uint64(m.memory[m.at+8*i:])) }

// check holds the map to what the header of the table says: number of functions and the five parts.
func (m memoryMap) check() error {
	header := m.word(mapHeader)
	said := func(i int) int { return int(binary.LittleEndian.Uint64(m.memory[header+8+8*i:])) }
	for i, part := range []int{mapNames, mapUnits, mapFiles, mapCounters, mapEntries} {
		if m.word(part) != header+said(3+i) {
			return errNoMap
		}
	}
	starts := []int{m.word(mapNames), m.word(mapUnits), m.word(mapFiles), m.word(mapCounters), m.word(mapEntries), m.word(mapTableEnd), len(m.memory)}
	if !slices.IsSorted(starts) || m.word(mapIndex) != m.word(mapEntries) || m.word(mapIndex+1) != said(0)+1 {
		return errNoMap
	}
	if m.word(mapCounters)+m.word(mapCounters+1) > m.word(mapEntries) {
		return fmt.Errorf("%w: the tables by program counter overlap the entries", errNoMap)
	}
	return nil
}

// parts cuts the memory into what the linker laid out there.
func (m memoryMap) parts() []part {
	return cutAt(m.memory, []region{
		{0, "before all"},
		{m.word(mapHeader), "table of functions: header"},
		{m.word(mapNames), "table of functions: names"},
		{m.word(mapUnits), "table of functions: compilation units"},
		{m.word(mapFiles), "table of functions: names of files"},
		{m.word(mapCounters), "table of functions: frames, stack maps, inlining (and lines, before thinning)"},
		{m.word(mapEntries), "table of functions: one entry each"},
		{m.word(mapTableEnd), "behind the table of functions"},
		{m.word(mapBuckets), "index of the table of functions"},
		{m.word(mapPlainStart), "variables without pointers (tables of numbers)"},
		{m.word(mapPointerStart), "variables with pointers"},
		{m.word(mapTypesStart), "types"},
		{m.word(mapTypesEnd), "behind the types"},
		{m.word(mapConstants), "constants, types among them"},
		{m.word(mapFunctionData), "stack maps and inlining trees"},
	})
}

// region is a named start in memory; it ends where the next one starts.
type region struct {
	start int
	name  string
}

func cutAt(memory []byte, regions []region) []part {
	slices.SortStableFunc(regions, func(a, b region) int { return a.start - b.start })
	var parts []part
	for i, r := range regions {
		end := len(memory)
		if i+1 < len(regions) {
			end = min(end, regions[i+1].start)
		}
		if r.start < end {
			parts = append(parts, part{r.name, memory[r.start:end]})
		}
	}
	return parts
}
