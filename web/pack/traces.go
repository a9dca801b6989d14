package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"slices"
)

// What only the text of a stack trace needs, beside the lines that thin drops: the names of
// functions, the trees of inlined calls, the layout of arguments. A trace then counts frames of
// "torchside.(*program).function"; the program that `go build ./cmd/wasm` makes has them all.

// Further fields of an entry of the table of functions (type _func), and the numbers of the tables
// and data that go (internal/abi/symtab.go of go1.26).
const (
	entryName = 4  // nameOff
	entryData = 43 // nfuncdata, one byte

	tableInlined   = 2 // abi.PCDATA_InlTreeIndex
	tableArguments = 3 // abi.PCDATA_ArgLiveIndex
	dataInlined    = 3 // abi.FUNCDATA_InlTree
	dataArguments  = 5 // abi.FUNCDATA_ArgInfo
	dataLiveness   = 6 // abi.FUNCDATA_ArgLiveInfo

	inlinedCall = 16 // bytes of a node of a tree (type inlinedCall, runtime/symtabinl.go)
	noData      = ^uint32(0)
)

// unnamed stands for every name that is dropped. It has the form of a method's: the panic of a call
// through a nil pointer takes the name of its caller apart (runtime/error.go, panicwrap).
const unnamed = "torchside.(*program).function"

// keptNames are the names the runtime itself asks for: its stack scan knows two functions of reflect
// by name (runtime/stkframe.go, argMapInternal), and its own goroutines by the package's
// (runtime/traceback.go).
var keptNames = [][]byte{[]byte("reflect.makeFuncStub"), []byte("reflect.methodValueCall"), []byte("runtime.")}

// dropTraces clears what only traces need. It comes before the tables are moved together.
func (m memoryMap) dropTraces() error {
	names := m.memory[m.word(mapNames) : m.word(mapNames)+m.word(mapNames+1)]
	kept := newNames(names)
	for i := range m.word(mapIndex+1) - 1 {
		entry, err := m.entry(i)
		if err != nil {
			return err
		}
		if err := kept.take(entry[entryName:]); err != nil {
			return err
		}
		if err := m.dropTree(entry); err != nil {
			return fmt.Errorf("entry %d: %w", i, err)
		}
	}
	clear(names)
	copy(names, kept.new)
	return nil
}

// dropTree takes the tree of inlined calls and the layout of arguments off one function. The nodes of
// a tree are counted by its table: the highest number in it is the last node.
func (m memoryMap) dropTree(entry []byte) error {
	tables := int(binary.LittleEndian.Uint32(entry[entryTables:]))
	data := int(entry[entryData])
	start := entryTableStart + 4*tables
	if start+4*data > len(entry) {
		return fmt.Errorf("%w: %d tables and %d data", errNoMap, tables, data)
	}
	if data > dataInlined && tables > tableInlined {
		if err := m.clearTree(entry[entryTableStart+4*tableInlined:], entry[start+4*dataInlined:]); err != nil {
			return err
		}
	}
	for _, t := range []int{tableInlined, tableArguments} {
		if t < tables {
			binary.LittleEndian.PutUint32(entry[entryTableStart+4*t:], 0)
		}
	}
	for _, d := range []int{dataInlined, dataArguments, dataLiveness} {
		if d < data {
			binary.LittleEndian.PutUint32(entry[start+4*d:], noData)
		}
	}
	return nil
}

func (m memoryMap) clearTree(tableField, dataField []byte) error {
	table, data := binary.LittleEndian.Uint32(tableField), binary.LittleEndian.Uint32(dataField)
	if table == 0 || data == noData {
		return nil
	}
	all := m.memory[m.word(mapCounters) : m.word(mapCounters)+m.word(mapCounters+1)]
	steps, err := counterTable(all, int(table))
	if err != nil {
		return err
	}
	at := m.word(mapFunctionData) + int(data)
	end := at + inlinedCall*(highest(steps)+1)
	if end > len(m.memory) {
		return fmt.Errorf("%w: a tree of inlined calls lies outside", errNoMap)
	}
	clear(m.memory[at:end])
	return nil
}

// highest is the highest value in a table by program counter: values start at -1, and each change of
// them is written with its sign in the lowest bit (runtime/symtab.go, step).
func highest(table []byte) int {
	value, most := -1, -1
	for first := true; ; first = false {
		change, n := binary.Uvarint(table)
		if n <= 0 || change == 0 && !first {
			return most
		}
		step := int(change >> 1)
		if change&1 != 0 {
			step = ^step
		}
		value += step
		most = max(most, value)
		_, counter := binary.Uvarint(table[n:])
		table = table[n+max(counter, 0):]
	}
}

// namesKept gathers the names that stay, each once.
type namesKept struct {
	old, new []byte
	moved    map[uint32]uint32
}

func newNames(all []byte) *namesKept {
	k := &namesKept{old: slices.Clone(all), moved: map[uint32]uint32{}}
	k.new = append(append([]byte{0}, unnamed...), 0) // offset 0 is the empty name
	return k
}

// take writes the new offset of the name whose old one stands at field.
func (k *namesKept) take(field []byte) error {
	offset := binary.LittleEndian.Uint32(field)
	to, ok := k.moved[offset]
	if !ok {
		if int(offset) >= len(k.old) {
			return fmt.Errorf("%w: a name lies outside", errNoMap)
		}
		name, _, found := bytes.Cut(k.old[offset:], []byte{0})
		if !found {
			return fmt.Errorf("%w: a name does not end", errNoMap)
		}
		to = 1
		if slices.ContainsFunc(keptNames, func(p []byte) bool { return bytes.HasPrefix(name, p) }) {
			to = uint32(len(k.new))
			k.new = append(append(k.new, name...), 0)
		}
		k.moved[offset] = to
	}
	binary.LittleEndian.PutUint32(field, to)
	return nil
}
