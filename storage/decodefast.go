package storage

import (
	"bytes"
	"strconv"
	"unicode/utf8"
)

// reader reads the stored form of an op, exactly as MarshalJSON writes it.
type reader struct {
	rest []byte
	odd  bool // something else was met: what was read is of no use
}

// readOp reads an op. It reports false when the text is not exactly the usual
// stored form; it may still be good JSON.
func readOp(data []byte) (o Op, usual bool) {
	r := reader{rest: data}
	o.ID = ID(r.name(`{"op":"`))
	o.Rec = ID(r.name(`,"rec":"`))
	o.Kind = r.name(`,"kind":"`)
	o.Schema = int(r.number(`,"schema":`))
	o.Parents = readNames[ID](&r, `,"parents":[`)
	o.Dev = ID(r.name(`,"dev":"`))
	o.N = r.number(`,"n":`)
	if r.odd = r.odd || o.HLC.UnmarshalText([]byte(r.name(`,"hlc":"`))) != nil; r.odd {
		return Op{}, false
	}
	o.At = r.name(`,"at":"`)
	o.Del = r.skip(`,"del":true`)
	if r.skip(`,"body":"`) {
		o.Body = r.text()
	}
	o.Blobs = readNames[string](&r, `,"blobs":[`)
	if r.odd || string(r.rest) != "}" {
		return Op{}, false
	}
	return o, true
}

// skip passes over start if it is there.
func (r *reader) skip(start string) bool {
	if len(r.rest) < len(start) || string(r.rest[:len(start)]) != start {
		return false
	}
	r.rest = r.rest[len(start):]
	return true
}

// name reads a text that stands as it is, behind start.
func (r *reader) name(start string) string {
	if !r.skip(start) {
		r.odd = true
		return ""
	}
	end := bytes.IndexByte(r.rest, '"')
	if end < 0 || !written(string(r.rest[:end])) {
		r.odd = true
		return ""
	}
	s := string(r.rest[:end])
	r.rest = r.rest[end+1:]
	return s
}

// maxDigits keeps a number within 63 bits.
const maxDigits = 18

// number reads a number from 0 behind start.
func (r *reader) number(start string) uint64 {
	if !r.skip(start) {
		r.odd = true
		return 0
	}
	n := 0
	for n < len(r.rest) && '0' <= r.rest[n] && r.rest[n] <= '9' {
		n++
	}
	if n == 0 || n > maxDigits || n > 1 && r.rest[0] == '0' {
		r.odd = true
		return 0
	}
	value, err := strconv.ParseUint(string(r.rest[:n]), 10, 63)
	r.odd = r.odd || err != nil
	r.rest = r.rest[n:]
	return value
}

// readNames reads a list of names behind start, if it is there.
func readNames[T ~string](r *reader, start string) []T {
	if !r.skip(start) {
		return nil
	}
	names := []T{T(r.name(`"`))}
	for r.skip(`,`) && !r.odd {
		names = append(names, T(r.name(`"`)))
	}
	r.odd = r.odd || !r.skip(`]`)
	return names
}

// text reads a body, whose opening quote is passed already.
func (r *reader) text() []byte {
	end := r.closing()
	if end <= 0 || !utf8.Valid(r.rest[:end]) {
		r.odd = true
		return nil
	}
	text := make([]byte, 0, end)
	for in := r.rest[:end]; len(in) > 0; {
		n := bytes.IndexByte(in, '\\')
		if n < 0 {
			n = len(in)
		}
		text, in = append(text, in[:n]...), in[n:]
		if len(in) > 0 {
			text, in = r.unescape(text, in)
		}
	}
	r.rest = r.rest[end+1:]
	return text
}

// closing finds the quote that ends a text, -1 if there is none or a character
// before it that may not stand in one.
func (r *reader) closing() int {
	for i := 0; i < len(r.rest); i++ {
		switch c := r.rest[i]; {
		case c == '"':
			return i
		case c == '\\':
			i++
		case c < ' ':
			return -1
		}
	}
	return -1
}

// unescape reads one escape, of those that appendText writes.
func (r *reader) unescape(text, in []byte) (_, rest []byte) {
	if len(in) < 2 {
		r.odd = true
		return text, nil
	}
	if i := bytes.IndexByte([]byte(escapeNames), in[1]); i >= 0 {
		return append(text, plainEscapes[i]), in[2:]
	}
	if in[1] != 'u' || len(in) < 6 {
		r.odd = true
		return text, nil
	}
	c, err := strconv.ParseUint(string(in[2:6]), 16, 16)
	if err != nil || utf8.RuneLen(rune(c)) < 0 { // half of a pair
		r.odd = true
		return text, nil
	}
	return utf8.AppendRune(text, rune(c)), in[6:]
}
