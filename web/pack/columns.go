package main

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
)

// The table of functions by columns. A row is a function: its place in the index (start address, place
// of the entry), the words of the entry's fixed part, then one word a table by program counter and one
// a piece of data. Neighbours in a column are alike, neighbours in memory are not; a column is
// written as the changes from row to row, signed numbers in the fewest bytes. The place of an entry
// follows from the lengths of those before and is not written.

const (
	fixedWords = entryTableStart / 4
	indexStep  = 8 // bytes of a function's place in the index (type functab, runtime/symtab.go)

	wordTables = entryTables / 4
	wordCounts = entryData / 4 // with the number of pieces of data in its highest byte
)

// table is the table of functions taken apart.
type table struct {
	rows   []row
	end    uint32 // of all code, the last word of the index
	length int    // in bytes, from the index to the end of the last entry
}

// row is a function's words.
type row struct {
	start uint32 // of its code, from the start of all code
	words []uint32
}

func (r row) tables() int { return int(r.words[wordTables]) }
func (r row) data() int   { return int(r.words[wordCounts] >> 24) }

var errTableForm = errors.New("the table of functions does not have the form that go1.26 gives it")

// readTable takes the table of count functions apart that memory starts with.
func readTable(memory []byte, count int) (table, error) {
	read := table{length: indexStep*count + 4} // the index ends with the end of all code
	if read.length > len(memory) {
		return table{}, errTableForm
	}
	read.end = binary.LittleEndian.Uint32(memory[indexStep*count:])
	for i := range count {
		index := memory[indexStep*i:]
		at := aligned(read.length)
		place := int(binary.LittleEndian.Uint32(index[4:]))
		if place != at || at+entryTableStart > len(memory) || len(bytes.Trim(memory[read.length:at], "\x00")) > 0 {
			return table{}, fmt.Errorf("%w: entry %d stands at %d, not at %d", errTableForm, i, place, at)
		}
		r := row{start: binary.LittleEndian.Uint32(index), words: readWords(memory[at : at+entryTableStart])}
		end := at + entryTableStart + 4*(r.tables()+r.data())
		if end > len(memory) {
			return table{}, fmt.Errorf("%w: entry %d is longer than the memory", errTableForm, i)
		}
		r.words = append(r.words, readWords(memory[at+entryTableStart:end])...)
		read.rows, read.length = append(read.rows, r), end
	}
	return read, nil
}

// aligned is the next place where an entry may start: the linker puts them at multiples of a word.
func aligned(at int) int { return (at + 7) &^ 7 }

func readWords(b []byte) []uint32 {
	var words []uint32
	for ; len(b) >= 4; b = b[4:] {
		words = append(words, binary.LittleEndian.Uint32(b))
	}
	return words
}

// appendColumns writes the table by columns; the reader is pwa/unfold.js.
func (t table) appendColumns(b []byte) []byte {
	starts := make([]uint32, 0, len(t.rows)+1)
	tables, data := 0, 0
	for _, r := range t.rows {
		starts = append(starts, r.start)
		tables, data = max(tables, r.tables()), max(data, r.data())
	}
	b = appendColumn(b, append(starts, t.end))
	for w := range fixedWords {
		b = appendColumn(b, t.column(func(row) int { return w }, func(row) bool { return true }))
	}
	for n := range tables {
		b = appendColumn(b, t.column(func(row) int { return fixedWords + n }, func(r row) bool { return n < r.tables() }))
	}
	for n := range data {
		b = appendColumn(b, t.column(func(r row) int { return fixedWords + r.tables() + n }, func(r row) bool { return n < r.data() }))
	}
	return b
}

// column is the word that at names, of the rows that have it.
func (t table) column(at func(row) int, has func(row) bool) []uint32 {
	var values []uint32
	for _, r := range t.rows {
		if has(r) {
			values = append(values, r.words[at(r)])
		}
	}
	return values
}

// How a column is written, its first byte.
const (
	byChange = 0 // the change from row to row
	byNumber = 1 // how many different values, these by change in the order of their first use, then a number a row: 0 is the next one, n the n-th of them again
)

// appendColumn writes a column in the form that packs shorter.
func appendColumn(b []byte, values []uint32) []byte {
	changes := appendChanges([]byte{byChange}, values)
	numbers := appendNumbers([]byte{byNumber}, values)
	if packedLength(numbers) < packedLength(changes) {
		return append(b, numbers...)
	}
	return append(b, changes...)
}

// appendChanges writes the changes of a column, in 32 bits with their signs in the lowest, seven bits
// a byte.
func appendChanges(b []byte, values []uint32) []byte {
	last := uint32(0)
	for _, v := range values {
		change := int32(v - last)
		b = binary.AppendUvarint(b, uint64(uint32(change<<1)^uint32(change>>31)))
		last = v
	}
	return b
}

// appendNumbers writes each value once and then only its number.
func appendNumbers(b []byte, values []uint32) []byte {
	var different []uint32
	var numbers []byte
	known := map[uint32]int{}
	for _, v := range values {
		numbers = binary.AppendUvarint(numbers, uint64(known[v]))
		if known[v] == 0 {
			different = append(different, v)
			known[v] = len(different)
		}
	}
	b = binary.AppendUvarint(b, uint64(len(different)))
	return append(appendChanges(b, different), numbers...)
}
