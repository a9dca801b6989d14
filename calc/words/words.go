// Package words says a text in the language of the person who reads it.
//
// The key is the English text itself. A text as it stands is looked up where it is shown, which costs the program nothing: go-app
// asks a Text for its String. T does the same at once. F and S are for a text with holes, N for one that counts; what is put into a
// hole is looked up too. A text the catalogue lacks is said in English, so a missing word never hides a caution. The same English
// words share one key: where they must differ in another language, they must differ in English too.
//
// The catalogue is set once, before any other package of ours begins: in the browser from what the page's script read (browser.go),
// never on the server and on the command line, which speak English. Nothing changes it afterwards, so a text may also stand in a
// variable of a package.
package words

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// catalogue maps English texts to those of the language; nil is English.
var catalogue map[string]string

// language is the code of the language in use, chosen what the owner set: "" for that of the phone.
var language, chosen = English, ""

// Codes of the languages there are, as in ISO 639-1.
const (
	English = "en"
	Spanish = "es"
	German  = "de"
)

// Language is the code of the language in use.
func Language() string { return language }

// Chosen is the code the owner set, "" for the language of the phone.
func Chosen() string { return chosen }

// T says a text in the language in use.
func T(english string) string {
	if text, ok := catalogue[english]; ok {
		return text
	}
	return english
}

// decimal is a number that package fmt writes with the sign of the language between whole and rest.
type decimal float64

// Format writes it by any verb of a number.
func (d decimal) Format(s fmt.State, verb rune) {
	_, _ = io.WriteString(s, Number(fmt.Sprintf(fmt.FormatString(s, verb), float64(d))))
}

// Own is a text its owner wrote, a name or a note: it is shown as it was written, in every language. What the sample brings with it is ours, and is said
// as other texts are.
func Own(text string, sample bool) string {
	if sample {
		return T(text)
	}
	return text
}

// Text is an English text that says itself in the language in use when it is shown.
type Text string

// String is T of the text.
func (t Text) String() string { return T(string(t)) }

// Short is T for a place with little room: the key has " (short)" behind it; without one it is T.
func Short(english string) string {
	if text, ok := catalogue[english+" (short)"]; ok {
		return text
	}
	return T(english)
}

// F says a text with verbs of package fmt in it. What is text among args is looked up too, and a float64 has
// the decimal sign of the language.
func F(english string, args ...any) string {
	if catalogue != nil {
		args = slices.Clone(args)
		for i, arg := range args {
			switch v := arg.(type) {
			case string:
				args[i] = T(v)
			case float64:
				args[i] = decimal(v)
			}
		}
	}
	return fmt.Sprintf(T(english), args...)
}

// S says a text in whose holes other texts stand, looked up too: %s takes the next one, %[2]s the one of that number, %% is a per
// cent sign. A hole without a text stays as it is, so that a mistake is seen.
func S(english string, holes ...string) string {
	text := T(english)
	var b strings.Builder
	for next := 0; ; {
		before, after, found := strings.Cut(text, "%")
		b.WriteString(before)
		if !found {
			return b.String()
		}
		number, rest, ok := hole(after, next)
		switch {
		case strings.HasPrefix(after, "%"):
			b.WriteByte('%')
			rest = after[1:]
		case ok && number < len(holes):
			b.WriteString(T(holes[number]))
			next = number + 1
		default:
			b.WriteByte('%')
			rest = after
		}
		text = rest
	}
}

// Says tells whether a text holds these words, in English or as said in the language in use.
func Says(text, english string) bool {
	return strings.Contains(text, english) || strings.Contains(text, T(english))
}

// Before is a text up to these words, in English or as said in the language in use; the whole text when it has them not.
func Before(text, english string) string {
	text, _, _ = strings.Cut(text, english)
	text, _, _ = strings.Cut(text, T(english))
	return text
}

// Join is strings.Join of texts that are looked up, and so is what stands between them.
func Join(texts []string, between string) string {
	if catalogue == nil {
		return strings.Join(texts, between)
	}
	said := make([]string, len(texts))
	for i, text := range texts {
		said[i] = T(text)
	}
	return strings.Join(said, T(between))
}

// hole reads what follows a per cent sign: the number of the hole, counted from 0, and the text behind it.
func hole(after string, next int) (number int, rest string, ok bool) {
	if rest, ok = strings.CutPrefix(after, "s"); ok {
		return next, rest, true
	}
	inside, rest, ok := strings.Cut(after, "]s")
	if !ok || !strings.HasPrefix(inside, "[") {
		return 0, "", false
	}
	n, err := strconv.Atoi(inside[1:])
	return n - 1, rest, err == nil && n > 0
}

// N says how many there are: one for 1, other for all else, 0 included, as in each language we have. A text may do without its %d.
func N(n int, one, other string) string {
	text := T(other)
	if n == 1 {
		text = T(one)
	}
	return strings.Replace(text, "%d", strconv.Itoa(n), 1)
}

// Count is N for a noun whose plural ends in s in English: the keys are "%d sheet" and "%d sheets".
func Count(n int, noun string) string { return N(n, "%d "+noun, "%d "+noun+"s") }

// Capital says a text as it stands at the beginning of a sentence.
func Capital(english string) string {
	text := []rune(T(english))
	if len(text) == 0 {
		return ""
	}
	text[0] = unicode.ToUpper(text[0])
	return string(text)
}

// Comma tells whether the language writes a decimal comma.
func Comma() bool { return language != English }

// Number writes a number, given with a decimal point, as the language does.
func Number(text string) string {
	if Comma() {
		return strings.Replace(text, ".", ",", 1)
	}
	return text
}

// use takes what the page's script read: texts are key and translation in turn, each ended by a zero byte.
func use(code, set, texts string) {
	chosen = set
	if code == "" || code == English || texts == "" {
		return
	}
	language = code
	parts := strings.Split(texts, "\x00")
	catalogue = make(map[string]string, len(parts)/2)
	for i := 0; i+1 < len(parts); i += 2 {
		catalogue[parts[i]] = parts[i+1]
	}
}
