package main

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
)

// module is a wasm module taken apart.
type module struct {
	sections []section
	memory   []byte // as it is at the start
	imported int    // how many functions come from outside
	bodies   [][]byte
	names    map[int]string // of functions; empty when the linker left them out
}

// section is one section as it stands in the file; custom ones carry their name in front.
type section struct {
	id   int
	body []byte
}

// Numbers of sections: WebAssembly core specification, 5.5 "Modules".
var sectionNames = []string{"custom", "type", "import", "function", "table", "memory", "global", "export", "start", "element", "code", "data", "data count"}

const (
	sectionCustom = 0
	sectionImport = 2
	sectionCode   = 10
	sectionData   = 11
)

const wasmHead = "\x00asm\x01\x00\x00\x00"

var errShort = errors.New("the file ends too early")

// reader reads the encodings of wasm; after an error it gives zeros.
type reader struct {
	b   []byte
	err error
}

func (r *reader) bytes(n int) []byte {
	if n < 0 || n > len(r.b) {
		r.err, r.b = errShort, nil
		return nil
	}
	head := r.b[:n]
	r.b = r.b[n:]
	return head
}

func (r *reader) byte() byte {
	if b := r.bytes(1); b != nil {
		return b[0]
	}
	return 0
}

func (r *reader) uint() int {
	v, n := binary.Uvarint(r.b)
	if n <= 0 {
		r.err, r.b = errShort, nil
		return 0
	}
	r.b = r.b[n:]
	return int(v)
}

func (r *reader) name() string { return string(r.bytes(r.uint())) }

// readModule takes a module apart.
func readModule(file []byte) (module, error) {
	if !bytes.HasPrefix(file, []byte(wasmHead)) {
		return module{}, errors.New("not a wasm module of version 1")
	}
	var m module
	for r := (reader{b: file[len(wasmHead):]}); len(r.b) > 0; {
		s := section{id: int(r.byte())}
		s.body = r.bytes(r.uint())
		if r.err != nil || s.id >= len(sectionNames) {
			return module{}, fmt.Errorf("section %d: %w", s.id, errShort)
		}
		m.sections = append(m.sections, s)
		if err := m.open(s); err != nil {
			return module{}, fmt.Errorf("section %s: %w", sectionNames[s.id], err)
		}
	}
	return m, nil
}

func (m *module) open(s section) error {
	r := reader{b: s.body}
	switch s.id {
	case sectionCustom:
		if r.name() == "name" {
			m.names = functionNames(&r)
		}
	case sectionImport:
		m.imported = r.uint() // Go imports functions alone
	case sectionCode:
		m.bodies = codeBodies(&r)
	case sectionData:
		m.memory = memoryOf(&r)
	}
	return r.err
}

// withMemory writes the module with another memory at the start.
func (m module) withMemory(memory []byte) []byte {
	file := []byte(wasmHead)
	for _, s := range m.sections {
		body := s.body
		if s.id == sectionData {
			body = dataSegments(memory)
		}
		file = append(file, byte(s.id))
		file = binary.AppendUvarint(file, uint64(len(body)))
		file = append(file, body...)
	}
	return file
}

// shortestGap is how many zeros end a data segment. The linker takes 8, the fewest plain bytes, and
// makes a hundred thousand segments, more than which browsers refuse; but every head of a segment
// breaks the repetition that brotli lives on: fewer segments save a tenth of all bytes sent.
const shortestGap = 256

// dataSegments writes memory as segments that leave long runs of zeros out: memory is zero before.
func dataSegments(memory []byte) []byte {
	count, segments := 0, []byte(nil)
	for at := 0; at < len(memory); {
		if memory[at] == 0 {
			at++
			continue
		}
		end, zeros := at, 0
		for ; end+zeros < len(memory) && zeros < shortestGap; zeros++ {
			if memory[end+zeros] != 0 {
				end, zeros = end+zeros+1, -1
			}
		}
		count++
		segments = append(segments, 0, 0x41) // memory 0; i32.const
		segments = appendSigned(segments, at)
		segments = append(segments, 0x0b) // end
		segments = binary.AppendUvarint(segments, uint64(end-at))
		segments = append(segments, memory[at:end]...)
		at = end
	}
	return append(binary.AppendUvarint(nil, uint64(count)), segments...)
}

// appendSigned writes a number in signed LEB128.
func appendSigned(b []byte, v int) []byte {
	for v > 0x3f || v < -0x40 {
		b = append(b, byte(v&0x7f)|0x80)
		v >>= 7
	}
	return append(b, byte(v&0x7f))
}

// functionNames reads the subsection of names of functions (specification, appendix "Name Section").
func functionNames(r *reader) map[int]string {
	const functionSubsection = 1
	names := map[int]string{}
	for len(r.b) > 0 && r.err == nil {
		id := r.byte()
		sub := reader{b: r.bytes(r.uint())}
		if id != functionSubsection {
			continue
		}
		for n := sub.uint(); n > 0 && sub.err == nil; n-- {
			i := sub.uint()
			names[i] = sub.name()
		}
		r.err = sub.err
	}
	return names
}

func codeBodies(r *reader) [][]byte {
	var bodies [][]byte
	for n := r.uint(); n > 0 && r.err == nil; n-- {
		bodies = append(bodies, r.bytes(r.uint()))
	}
	return bodies
}

// memoryOf puts the data segments where they belong in memory.
func memoryOf(r *reader) []byte {
	var memory []byte
	for n := r.uint(); n > 0 && r.err == nil; n-- {
		r.bytes(2) // active, memory 0; i32.const
		offset := signed(r)
		r.byte() // end
		body := r.bytes(r.uint())
		if r.err != nil || offset < 0 || offset > 1<<30 {
			return nil
		}
		if end := offset + len(body); end > len(memory) {
			memory = append(memory, make([]byte, end-len(memory))...)
		}
		copy(memory[offset:], body)
	}
	return memory
}

// signed reads a number in signed LEB128 (specification, 5.2.2 "Integers").
func signed(r *reader) int {
	value, shift := 0, 0
	for {
		b := r.byte()
		value |= int(b&0x7f) << shift
		shift += 7
		if b < 0x80 || r.err != nil {
			if b&0x40 != 0 {
				value -= 1 << shift
			}
			return value
		}
	}
}
