package journal

import (
	"encoding/hex"
	"encoding/json"
	"maps"
	"slices"
	"strconv"
	"unicode/utf8"

	"torchside/calc/words"
)

// Limits of one sheet. The whole has to stay below what a store takes as one record (96 KiB) with room for its envelope; the
// others keep that reachable. Our own choice.
const (
	MaxBytes  = 90 << 10 // of the body
	MaxNote   = 10000    // characters of Note
	MaxText   = 2000     // characters of Wrong, Next and what was seen in a test
	MaxWord   = 120      // characters of short texts: title, place, tip, filler, flux, caption
	MaxPhotos = 40       // count
	MaxTests  = 10       // count
	MaxCard   = 32 << 10 // bytes of the settings card
	// MinScalePixels is the shortest line a scale is taken from: two taps a few pixels apart would measure nothing.
	MinScalePixels = 8
	// MaxScore is the best score, 0 the worst.
	MaxScore = 4
)

// Problem says what is wrong with one field. It is the error of [Write].
type Problem struct {
	Field   string // JSON name, with dots and indexes inside: photos.2.caption
	Read    string
	Allowed string
	Why     string
}

// Error gives the problem as one readable line.
func (p *Problem) Error() string {
	return words.S("%s: read %s; allowed: %s; %s", p.Field, p.Read, p.Allowed, p.Why)
}

// Check says everything that keeps the sheet from being written, even as a draft. An empty sheet is a good draft.
func (s Sheet) Check() []*Problem {
	var c checker
	c.time("at", s.At)
	for _, w := range []struct {
		field, id string
		list      []Word
	}{{"work", s.Work, works}, {"metal", s.Metal, metals}, {"joint", s.Joint, joints}, {"position", s.Position, positionWords()}, {"flame", s.Flame, flames}} {
		c.word(w.field, w.id, w.list)
	}
	for _, t := range []struct {
		field, text string
		most        int
	}{{"title", s.Title, MaxWord}, {"place", s.Place, MaxWord}, {"drill", s.Drill, MaxWord}, {"tip", s.Tip, MaxWord}, {"fuel", s.Fuel, MaxWord},
		{"filler", s.Filler, MaxWord}, {"flux", s.Flux, MaxWord}, {"wrong", s.Wrong, MaxText}, {"next", s.Next, MaxText}, {"note", s.Note, MaxNote}} {
		c.text(t.field, t.text, t.most)
	}
	c.numbers(s)
	c.card(s.Card)
	c.photos(s.Photos)
	c.scores(s)
	c.tests(s.Tests)
	for _, key := range slices.Sorted(maps.Keys(s.Typed)) {
		c.text("typed."+key, s.Typed[key], MaxWord)
	}
	return c.found
}

// Unfinished says what the sheet needs before it may be called finished: a time, a work, and something that is worth keeping.
// Such a sheet is a good draft all the same.
func (s Sheet) Unfinished() []*Problem {
	var c checker
	if s.Empty() {
		c.add("sheet", "nothing", "a sheet with at least one setting, score, photo, test or word", "an empty sheet would teach nothing; it is kept as a draft")
	}
	if s.At == "" {
		c.add("at", "nothing", "date and time with offset", "the list and the trends are in order of time")
	}
	if s.Work == "" {
		c.add("work", "nothing", ids(works), "which scores there are, and what is compared with what, goes by the work")
	}
	return append(c.found, s.Check()...)
}

// Empty reports whether nothing was noted that the app did not fill in by itself.
func (s Sheet) Empty() bool {
	return s.Title == "" && s.Metal == "" && s.Joint == "" && s.Position == "" && s.Drill == "" && s.Tip == "" && s.Flame == "" && s.Filler == "" &&
		s.Flux == "" && s.Wrong == "" && s.Next == "" && s.Note == "" && s.Place == "" && len(s.Card) == 0 && len(s.Photos) == 0 && len(s.Scores) == 0 &&
		len(s.Tests) == 0 && len(s.extra) == 0 && !s.hasNumber()
}

func (s Sheet) hasNumber() bool {
	for _, n := range s.numbers() {
		if n.value != nil {
			return true
		}
	}
	return false
}

// Flags are oddities that are worth a look and refuse nothing: a time more than five minutes after now (both RFC 3339), or
// fields that could not be read.
func (s Sheet) Flags(now string) []*Problem {
	var c checker
	at, okAt := readTime(s.At)
	present, okNow := readTime(now)
	if okAt && okNow && at.milli > present.milli+futureSlack {
		c.add("at", strconv.Quote(s.At), "a time up to now", "this is in the future; the clock of this phone, or the date, may be wrong")
	}
	for _, field := range s.Unread() {
		c.add(field, "something this version does not understand", "", "it is kept as it is")
	}
	return c.found
}

// futureSlack is how far the clocks of two devices of one owner may differ without a word, ms. Our own choice, as for syncing.
const futureSlack = 300e3

// checker collects problems.
type checker struct{ found []*Problem }

func (c *checker) add(field, read, allowed, why string) {
	c.found = append(c.found, &Problem{Field: field, Read: read, Allowed: allowed, Why: why})
}

func (c *checker) time(field, text string) {
	if _, ok := readTime(text); text != "" && !ok {
		c.add(field, strconv.Quote(shorten(text)), "a time as 2026-05-17T14:30:00+02:00", "without the offset the order of sheets is not certain")
	}
}

func (c *checker) word(field, id string, list []Word) {
	if id != "" && !hasWord(list, id) {
		c.add(field, strconv.Quote(shorten(id)), ids(list), "the filters and trends go by these words; free words belong in the note")
	}
}

func (c *checker) text(field, text string, most int) {
	switch n := utf8.RuneCountInString(text); {
	case n > most:
		c.add(field, words.Count(n, "character"), words.S("at most %s", words.Count(most, "character")), "a sheet has to stay small enough to travel in one piece")
	case !utf8.ValidString(text):
		c.add(field, "broken characters", "text in UTF-8", "they could not be kept as they are")
	}
}

func (c *checker) number(field string, v *float64, low, high float64, unit, why string) {
	if v != nil && !(finite(*v) && *v >= low && *v <= high) {
		c.add(field, number(*v)+" "+unit, words.S("%s to %s %s", number(low), number(high), unit), why)
	}
}

func (c *checker) card(card json.RawMessage) {
	switch {
	case len(card) == 0:
	case !json.Valid(card):
		c.add("card", strconv.Quote(shorten(string(card))), "a settings card in JSON", "it could not be read again")
	case len(card) > MaxCard:
		c.add("card", words.Count(len(card), "byte"), words.S("at most %s", words.Count(MaxCard, "byte")), "a sheet has to travel in one piece")
	}
}

func (c *checker) photos(list []Photo) {
	if len(list) > MaxPhotos {
		c.add("photos", words.Count(len(list), "photo"), words.S("at most %s", words.Count(MaxPhotos, "photo")), "a sheet has to travel in one piece; begin a second sheet")
	}
	for i, p := range list {
		at := "photos." + strconv.Itoa(i) + "."
		c.hash(at+"hash", p.Hash, p.Draw == nil)
		c.hash(at+"thumb_hash", p.ThumbHash, false)
		c.word(at+"role", p.Role, roles)
		c.text(at+"caption", p.Caption, MaxWord)
		c.text(at+"name", p.Name, MaxWord)
		if p.W < 0 || p.H < 0 || p.Bytes < 0 {
			c.add(at+"w", words.S("%s × %s, %s bytes", strconv.Itoa(p.W), strconv.Itoa(p.H), strconv.Itoa(p.Bytes)), "sizes of 0 or more", "a picture has no negative size")
		}
		c.number(at+"bead_width_m", p.BeadM, 0, 0.1, "m", "a bead is not wider than a hand")
		c.number(at+"bead_width_error_m", p.BeadErrM, 0, 1, "m", "an error is not larger than the picture")
		c.scale(at+"scale", p.Scale)
	}
}

func (c *checker) hash(field, text string, needed bool) {
	if text == "" && !needed {
		return
	}
	sum, err := hex.DecodeString(text)
	if err != nil || len(sum) != 32 || text != hex.EncodeToString(sum) {
		c.add(field, strconv.Quote(shorten(text)), "a SHA-256 as 64 lower-case hex digits", "photos are found by it")
	}
}

func (c *checker) scale(field string, s *Scale) {
	if s == nil {
		return
	}
	c.number(field+".length_m", &s.M, 0.001, 1, "m", "the known length has to be in the picture: a coin, a rule")
	if d := hypot(s.X2-s.X1, s.Y2-s.Y1); !(d >= MinScalePixels) || !finite(d) {
		c.add(field, words.S("two points %s pixels apart", number(d)), words.S("at least %s pixels", strconv.Itoa(MinScalePixels)), "a shorter line measures nothing")
	}
}

func (c *checker) scores(s Sheet) {
	for _, id := range slices.Sorted(maps.Keys(s.Scores)) {
		if v := s.Scores[id]; v < 0 || v > MaxScore {
			c.add("scores."+id, strconv.Itoa(v), words.S("0 to %s", strconv.Itoa(MaxScore)), "each step has its words; see what they mean")
		}
		c.text("scores", id, MaxWord)
	}
	for _, id := range s.Skipped {
		if _, both := s.Scores[id]; both {
			c.add("skipped", strconv.Quote(id), "scores that have no value", "a score is given or passed over, not both")
		}
	}
}

func (c *checker) tests(list []TestResult) {
	if len(list) > MaxTests {
		c.add("tests", words.Count(len(list), "test"), words.S("at most %s", words.Count(MaxTests, "test")), "begin a sheet for each coupon")
	}
	for i, t := range list {
		at := "tests." + strconv.Itoa(i) + "."
		if t.Test == "" {
			c.add(at+"test", "nothing", ids(tests), "a result without its test says nothing")
		}
		c.word(at+"test", t.Test, tests)
		c.text(at+"seen", t.Seen, MaxText)
	}
}
