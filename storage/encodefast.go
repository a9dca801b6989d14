package storage

import (
	"bytes"
	"strconv"
	"unicode/utf8"
)

// An op is written and read far more often than anything else, by a phone and
// a server alike, and encoding/json goes over each several times. What follows
// writes and reads the one stored form in one go. Whatever is unusual in any
// way is left to encoding/json, so that there is only one truth.

// appendOp adds the stored form to b. It reports false, with b of no use, when
// the op is not of the usual kind.
func appendOp(b []byte, o Op) (_ []byte, usual bool) {
	if !o.usualNames() || !utf8.Valid(o.Body) || o.HLC.Milli < 0 || o.HLC.Milli > maxMilli {
		return b, false
	}
	b = append(append(b, `{"op":"`...), o.ID...)
	b = append(append(b, `","rec":"`...), o.Rec...)
	b = append(append(b, `","kind":"`...), o.Kind...)
	b = strconv.AppendInt(append(b, `","schema":`...), int64(o.Schema), 10)
	b = appendNames(b, `,"parents":[`, o.Parents)
	b = append(append(b, `,"dev":"`...), o.Dev...)
	b = strconv.AppendUint(append(b, `","n":`...), o.N, 10)
	b = appendHLC(append(b, `,"hlc":"`...), o.HLC)
	b = append(append(b, `","at":"`...), o.At...)
	b = append(b, '"')
	if o.Del {
		b = append(b, `,"del":true`...)
	}
	if len(o.Body) > 0 {
		b = append(appendText(append(b, `,"body":"`...), o.Body), '"')
	}
	b = appendNames(b, `,"blobs":[`, o.Blobs)
	return append(b, '}'), true
}

// usualNames tells whether every text but the body is written as it is.
func (o Op) usualNames() bool {
	for _, s := range []string{string(o.ID), string(o.Rec), o.Kind, string(o.Dev), o.At} {
		if !written(s) {
			return false
		}
	}
	for _, p := range o.Parents {
		if !written(string(p)) {
			return false
		}
	}
	for _, h := range o.Blobs {
		if !written(h) {
			return false
		}
	}
	return true
}

// written tells whether a text stands in JSON as it is.
func written(s string) bool {
	for i := range len(s) {
		if !asIs[s[i]] {
			return false
		}
	}
	return true
}

// asIs are the ASCII characters that encoding/json does not escape.
var asIs = func() (t [256]bool) {
	for c := ' '; c < utf8.RuneSelf-1; c++ {
		t[c] = c != '"' && c != '\\' && c != '<' && c != '>' && c != '&'
	}
	return t
}()

func appendNames[T ~string](b []byte, start string, names []T) []byte {
	if len(names) == 0 {
		return b
	}
	b = append(b, start...)
	for i, n := range names {
		if i > 0 {
			b = append(b, ',')
		}
		b = append(append(append(b, '"'), n...), '"')
	}
	return append(b, ']')
}

// appendHLC is HLC.String.
func appendHLC(b []byte, h HLC) []byte {
	for shift := 44; shift >= 0; shift -= 4 {
		b = append(b, hexDigits[h.Milli>>shift&0xf])
	}
	b = append(b, '.')
	for shift := 28; shift >= 0; shift -= 4 {
		b = append(b, hexDigits[h.Counter>>shift&0xf])
	}
	return b
}

const hexDigits = "0123456789abcdef"

// appendText adds UTF-8 text with the escapes of encoding/json.
func appendText(b, text []byte) []byte {
	start := 0
	for i := 0; i < len(text); i++ {
		c := text[i]
		if asIs[c] || c >= utf8.RuneSelf && !lineSeparator(text[i:]) || c == 0x7f {
			continue
		}
		b = append(b, text[start:i]...)
		if c >= utf8.RuneSelf { // U+2028 or U+2029
			b = append(b, `\u202`...)
			b = append(b, hexDigits[text[i+2]&0xf])
			i += 2
		} else {
			b = appendEscape(b, c)
		}
		start = i + 1
	}
	return append(b, text[start:]...)
}

// lineSeparator tells whether text begins with U+2028 or U+2029.
func lineSeparator(text []byte) bool {
	return len(text) > 2 && text[0] == 0xe2 && text[1] == 0x80 && text[2]&^1 == 0xa8
}

func appendEscape(b []byte, c byte) []byte {
	if i := bytes.IndexByte([]byte(plainEscapes), c); i >= 0 {
		return append(b, '\\', escapeNames[i])
	}
	return append(b, '\\', 'u', '0', '0', hexDigits[c>>4], hexDigits[c&0xf])
}

// Characters with a short escape, and the letters of those.
const (
	plainEscapes = "\"\\\b\f\n\r\t"
	escapeNames  = `"\bfnrt`
)
