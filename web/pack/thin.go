package main

import (
	"encoding/binary"
	"errors"
	"fmt"
	"slices"
)

// The Go linker puts into every program, whatever its flags, a table of which instruction came from
// which line of which file, and one of the places where a thread may be interrupted. The first is
// read for the text of a stack trace alone, the second by operating systems' signals alone; in a
// browser they are a tenth of all bytes sent. thin drops both, and the rest of what only traces need
// (traces.go). A function without such a table is a case the runtime knows (offset 0:
// runtime/symtab.go, pcvalue). Frame sizes and stack maps, which the collector and recover need, stay
// as they are.

// Fields of an entry of the table of functions: byte offsets in type _func (runtime/runtime2.go of
// go1.26). Behind the fixed part stand the offsets of the tables by program counter, then those of
// the function's data.
const (
	entryFrames     = 16 // pcsp
	entryFiles      = 20 // pcfile
	entryLines      = 24 // pcln
	entryTables     = 28 // npcdata, how many tables stand behind
	entryUnit       = 32 // cuOffset, of the names of files
	entryStartLine  = 36
	entryTableStart = 44

	tableInterrupts = 0 // abi.PCDATA_UnsafePoint
)

// thin takes a Go program for the browser and drops its tables of lines and interruptions, and what else only traces need.
func thin(file []byte) ([]byte, error) {
	m, err := readModule(file)
	if err != nil {
		return nil, err
	}
	runtimeMap, err := findMap(m.memory)
	if err != nil {
		return nil, fmt.Errorf("thinning: %w", err)
	}
	if err := runtimeMap.dropTraces(); err != nil {
		return nil, fmt.Errorf("thinning: %w", err)
	}
	if err := runtimeMap.dropLines(); err != nil {
		return nil, fmt.Errorf("thinning: %w", err)
	}
	if err := runtimeMap.lay(); err != nil {
		return nil, fmt.Errorf("thinning: %w", err)
	}
	return m.withMemory(runtimeMap.memory), nil
}

// dropLines clears the offsets of the dropped tables in all entries and moves the others together.
func (m memoryMap) dropLines() error {
	start, length := m.word(mapCounters), m.word(mapCounters+1)
	kept := keptTables{old: slices.Clone(m.memory[start : start+length]), moved: map[uint32]uint32{}}
	kept.new = append(kept.new, 0) // offset 0 means: no table
	for i := range m.word(mapIndex+1) - 1 {
		entry, err := m.entry(i)
		if err != nil {
			return err
		}
		for _, at := range []int{entryFiles, entryLines, entryUnit, entryStartLine} {
			binary.LittleEndian.PutUint32(entry[at:], 0)
		}
		tables := int(binary.LittleEndian.Uint32(entry[entryTables:]))
		if entryTableStart+4*tables > len(entry) {
			return fmt.Errorf("%w: entry %d has %d tables", errNoMap, i, tables)
		}
		if tables > tableInterrupts {
			binary.LittleEndian.PutUint32(entry[entryTableStart+4*tableInterrupts:], 0)
		}
	}
	if err := m.moveTables(&kept); err != nil {
		return err
	}
	clear(m.memory[start : start+length])
	copy(m.memory[start:], kept.new)
	clear(m.memory[m.word(mapFiles) : m.word(mapFiles)+m.word(mapFiles+1)])
	clear(m.memory[m.word(mapUnits) : m.word(mapUnits)+4*m.word(mapUnits+1)])
	return nil
}

// moveTables moves the tables that stay, each kind by itself, in the order in which functions use them:
// neighbours are alike then, and most offsets the next one.
func (m memoryMap) moveTables(kept *keptTables) error {
	for kind := -1; ; kind++ { // -1 stands for the frames
		some := false
		for i := range m.word(mapIndex+1) - 1 {
			entry, err := m.entry(i)
			if err != nil {
				return err
			}
			field := entryFrames
			if kind >= 0 {
				field = entryTableStart + 4*kind
				if kind >= int(binary.LittleEndian.Uint32(entry[entryTables:])) {
					continue
				}
			}
			some = true
			if err := kept.move(entry[field:]); err != nil {
				return err
			}
		}
		if !some {
			return nil
		}
	}
}

// entry is the memory from the i-th entry on; the index names its place behind each start address.
func (m memoryMap) entry(i int) ([]byte, error) {
	place := m.word(mapIndex) + 8*i + 4
	at := m.word(mapEntries) + int(binary.LittleEndian.Uint32(m.memory[place:]))
	if end := m.word(mapTableEnd); at+entryTableStart <= end {
		return m.memory[at:end], nil
	}
	return nil, fmt.Errorf("%w: entry %d lies outside", errNoMap, i)
}

// keptTables moves tables by program counter together, each once.
type keptTables struct {
	old, new []byte
	moved    map[uint32]uint32
}

// move copies the table whose offset stands at field and writes the new offset there.
func (k *keptTables) move(field []byte) error {
	offset := binary.LittleEndian.Uint32(field)
	if offset == 0 {
		return nil
	}
	to, ok := k.moved[offset]
	if !ok {
		table, err := counterTable(k.old, int(offset))
		if err != nil {
			return err
		}
		to = uint32(len(k.new))
		k.new = append(k.new, table...)
		k.moved[offset] = to
	}
	binary.LittleEndian.PutUint32(field, to)
	return nil
}

var errTable = errors.New("a table by program counter does not end")

// counterTable is the table at offset with its end mark: pairs of numbers, change of the value and
// of the program counter, until a change of 0 that is not the first (runtime/symtab.go, step).
func counterTable(all []byte, offset int) ([]byte, error) {
	at := offset
	for first := true; ; first = false {
		change, n := binary.Uvarint(all[min(at, len(all)):])
		if n <= 0 {
			return nil, errTable
		}
		at += n
		if change == 0 && !first {
			return all[offset:at], nil
		}
		_, n = binary.Uvarint(all[at:])
		if n <= 0 {
			return nil, errTable
		}
		at += n
	}
}
