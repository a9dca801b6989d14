package main

import (
	"encoding/binary"
	"fmt"
)

// foldedSection is the custom section that holds the table of functions by columns: the address of
// the table in memory and the number of functions as 32-bit words, then the columns (columns.go).
const foldedSection = "torchside.functions"

// fold takes the runtime's table of functions out of the memory at the start and puts it by columns
// into a section of its own, which packs to half. pwa/unfold.js puts it back before the program
// starts; a page without that script cannot run a folded program.
func fold(file []byte) ([]byte, error) {
	m, err := readModule(file)
	if err != nil {
		return nil, err
	}
	found, err := findMap(m.memory)
	if err != nil {
		return nil, fmt.Errorf("folding: %w", err)
	}
	at, end := found.word(mapEntries), found.word(mapTableEnd)
	count := found.word(mapIndex+1) - 1
	table, err := readTable(m.memory[at:end], count)
	if err != nil {
		return nil, fmt.Errorf("folding: %w", err)
	}
	clear(m.memory[at : at+table.length])
	body := append([]byte{byte(len(foldedSection))}, foldedSection...)
	body = binary.LittleEndian.AppendUint32(body, uint32(at))
	body = binary.LittleEndian.AppendUint32(body, uint32(count))
	body = table.appendColumns(body)
	m.sections = append(m.sections, section{sectionCustom, body})
	return m.withMemory(m.memory), nil
}
