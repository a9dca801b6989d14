package journal

import (
	"strings"
	"unicode"
)

// MaxTerm is the longest word that is indexed, in characters; a longer one is found by its beginning. Our own choice.
const MaxTerm = 32

// folds are Latin letters of European languages with their bare form; every other script is only put into lower case.
var folds = makeFolds()

func makeFolds() map[rune]string {
	folds := map[rune]string{'ß': "ss", 'æ': "ae", 'œ': "oe", 'ø': "o", 'ł': "l", 'đ': "d", 'ð': "d", 'þ': "th", 'ı': "i", 'ħ': "h", 'ŧ': "t", 'ς': "σ", 'ё': "е"}
	for base, letters := range map[string]string{
		"a": "àáâãäåāăąǎ", "c": "çćĉċč", "d": "ď", "e": "èéêëēĕėęěẽ", "g": "ĝğġģ", "h": "ĥ", "i": "ìíîïĩīĭįǐ", "j": "ĵ", "k": "ķ",
		"l": "ĺļľ", "n": "ñńņňŋ", "o": "òóôõöōŏőǒ", "r": "ŕŗř", "s": "śŝşšș", "t": "ţťț", "u": "ùúûüũūŭůűųǔ", "w": "ŵ", "y": "ýÿŷ", "z": "źżž",
	} {
		for _, r := range letters {
			folds[r] = base
		}
	}
	return folds
}

// Words takes a text apart into folded words: lower case, accents dropped, digits of any script as 0 to 9, a decimal comma as a
// point. Characters of scripts that write no spaces, and emoji, are words by themselves. Each word comes once, in the order of
// the text. Writing direction does not matter: words are compared as they are stored.
func Words(text string) []string {
	words, _ := split(text)
	return words
}

// split gives the words, and the one the text ends within: "" when something closes it.
func split(text string) (words []string, open string) {
	var s splitter
	runes := []rune(text)
	for i, r := range runes {
		s.take(r, i+1 < len(runes) && isDigit(runes[i+1]))
	}
	open = s.word.String()
	s.end()
	return s.words, open
}

type splitter struct {
	word  strings.Builder
	size  int  // characters of word
	digit bool // the last one was a digit
	words []string
	seen  map[string]bool
}

// take adds one character; digitNext tells whether a digit follows.
func (s *splitter) take(r rune, digitNext bool) {
	r = unicode.ToLower(r)
	switch {
	case unicode.Is(unicode.Mn, r), r == '\u200d', r == '\u0640', r >= 0x1F3FB && r <= 0x1F3FF:
		// Marks, joiners and tints belong to the character before; the Arabic stretch belongs to none.
	case isDigit(r):
		s.add(string(asciiDigit(r)))
		s.digit = true
	case (r == '.' || r == ',' || r == '٫') && s.digit && digitNext:
		s.add(".")
	case standsAlone(r):
		s.end()
		s.add(string(r))
		s.end()
	case unicode.IsLetter(r) || unicode.Is(unicode.Mc, r) || unicode.IsNumber(r):
		if folded, ok := folds[r]; ok {
			s.add(folded)
		} else {
			s.add(string(r))
		}
		s.digit = false
	default:
		s.end()
	}
}

func (s *splitter) add(text string) {
	if s.size < MaxTerm {
		s.word.WriteString(text)
		s.size++
	}
}

// end closes the word begun.
func (s *splitter) end() {
	word := s.word.String()
	s.word.Reset()
	s.size, s.digit = 0, false
	if word == "" || s.seen[word] {
		return
	}
	if s.seen == nil {
		s.seen = map[string]bool{}
	}
	s.seen[word] = true
	s.words = append(s.words, word)
}

// standsAlone is true for emoji and other symbols, and for scripts that write no spaces between words.
func standsAlone(r rune) bool {
	return unicode.Is(unicode.So, r) || r >= 0x0E00 && r <= 0x0EFF && unicode.IsLetter(r) || r >= 0x3040 && r <= 0x30FF || unicode.Is(unicode.Han, r)
}

func isDigit(r rune) bool { return asciiDigit(r) != 0 }

// asciiDigit turns a decimal digit of Latin, Arabic, Persian, Devanagari or full-width writing into 0 to 9; 0 for all else.
func asciiDigit(r rune) rune {
	for _, zero := range []rune{'0', 0x0660, 0x06F0, 0x0966, 0xFF10} {
		if r >= zero && r <= zero+9 {
			return '0' + r - zero
		}
	}
	return 0
}
