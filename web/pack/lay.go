package main

import (
	"encoding/binary"
	"fmt"
	"slices"
)

// Numbers of the data that go on being read (internal/abi/symtab.go of go1.26): the collector's maps
// of arguments and of locals, the objects on a stack, where deferred calls stand, what a wrapper wraps.
const (
	dataArgumentMaps = 0 // abi.FUNCDATA_ArgsPointerMaps
	dataLocalMaps    = 1 // abi.FUNCDATA_LocalsPointerMaps
	dataObjects      = 2 // abi.FUNCDATA_StackObjects
	dataDeferred     = 4 // abi.FUNCDATA_OpenCodedDeferInfo
	dataWrapped      = 7 // abi.FUNCDATA_WrapInfo
)

// laidData are the kinds of data in the order in which lay puts them.
var laidData = []int{dataArgumentMaps, dataLocalMaps, dataObjects, dataDeferred, dataWrapped}

// dataAlign is the number of which an offset of each kind must be a multiple.
var dataAlign = map[int]int{dataArgumentMaps: 4, dataLocalMaps: 4, dataObjects: 8, dataDeferred: 1, dataWrapped: 4}

// lay puts the data of functions in the order in which functions use them, each kind by itself. The
// linker sorts them by size, so that the offsets in the entries are as good as random numbers;
// in the order of use most of them are the next one. Everything from mapFunctionData to mapTableEnd is
// such data (cmd/link/internal/ld/pcln.go, generateFuncdata), so what is not moved is not used.
func (m memoryMap) lay() error {
	area := m.memory[m.word(mapFunctionData):m.word(mapTableEnd)]
	l := layer{old: slices.Clone(area), new: area, moved: map[uint32]uint32{}}
	clear(area)
	for _, kind := range laidData {
		for i := range m.word(mapIndex+1) - 1 {
			entry, err := m.entry(i)
			if err != nil {
				return err
			}
			if kind >= int(entry[entryData]) {
				continue
			}
			field := entryTableStart + 4*(int(binary.LittleEndian.Uint32(entry[entryTables:]))+kind)
			if err := l.move(entry[field:], kind); err != nil {
				return fmt.Errorf("data %d of function %d: %w", kind, i, err)
			}
		}
	}
	return nil
}

// layer moves data from the old area to the new one, each once.
type layer struct {
	old, new []byte
	used     int
	moved    map[uint32]uint32
}

func (l *layer) move(field []byte, kind int) error {
	offset := binary.LittleEndian.Uint32(field)
	if offset == noData {
		return nil
	}
	to, ok := l.moved[offset]
	if !ok {
		length, err := dataLength(l.old, int(offset), kind)
		if err != nil {
			return err
		}
		step := dataAlign[kind]
		to = uint32((l.used + step - 1) / step * step)
		if int(to)+length > len(l.new) {
			return fmt.Errorf("%w: the data of functions do not fit where they were", errTableForm)
		}
		copy(l.new[to:], l.old[offset:int(offset)+length])
		l.used = int(to) + length
		l.moved[offset] = to
	}
	binary.LittleEndian.PutUint32(field, to)
	return nil
}

// dataLength is the length in bytes of the datum at offset.
func dataLength(area []byte, offset, kind int) (int, error) {
	if offset+8 > len(area) {
		return 0, fmt.Errorf("%w: it lies outside", errTableForm)
	}
	datum := area[offset:]
	length := 4 // the offset of the wrapped function
	switch kind {
	case dataArgumentMaps, dataLocalMaps: // type stackmap, runtime/symtab.go: how many, bits of each, the bits
		maps, bits := binary.LittleEndian.Uint32(datum), binary.LittleEndian.Uint32(datum[4:])
		length = 8 + int(maps)*((int(bits)+7)/8)
	case dataObjects: // a word with their number, then 16 bytes each: type stackObjectRecord, runtime/stack.go
		length = 8 + 16*int(binary.LittleEndian.Uint64(datum))
	case dataDeferred: // two numbers, seven bits a byte: runtime/panic.go, initOpenCodedDefers
		_, first := binary.Uvarint(datum)
		_, second := binary.Uvarint(datum[max(first, 0):])
		length = first + second
	}
	if length <= 0 || length > len(datum) {
		return 0, fmt.Errorf("%w: it is %d bytes long", errTableForm, length)
	}
	return length, nil
}
