package journal

import (
	"strconv"
	"strings"
)

// column is one column of the table.
type column struct {
	head string // with its unit
	of   func(Sheet) string
}

func word(of func(Sheet) string) func(Sheet) string {
	return func(s Sheet) string { return safeCell(of(s)) }
}

// scaled writes a number in a unit that is by times smaller or larger than SI; an empty cell when it was not noted.
func scaled(field string, by float64) func(Sheet) string {
	return func(s Sheet) string { return scaledText(s.Number(field), by) }
}

func scaledText(v *float64, by float64) string {
	if v == nil {
		return ""
	}
	return strconv.FormatFloat(*v*by, 'g', 6, 64)
}

var columns = []column{
	{"time", word(func(s Sheet) string { return s.At })},
	{"finished", func(s Sheet) string { return yesNo(s.Finished) }},
	{"sample", func(s Sheet) string { return yesNo(s.Sample) }},
	{"title", word(func(s Sheet) string { return s.Title })},
	{"work", word(func(s Sheet) string { return s.Work })},
	{"metal", word(func(s Sheet) string { return s.Metal })},
	{"thickness (mm)", scaled("thickness_m", 1e3)},
	{"joint", word(func(s Sheet) string { return s.Joint })},
	{"position", word(func(s Sheet) string { return s.Position })},
	{"drill", word(func(s Sheet) string { return s.Drill })},
	{"tip", word(func(s Sheet) string { return s.Tip })},
	{"fuel", word(func(s Sheet) string { return s.Fuel })},
	{"oxygen pressure (kPa gauge)", scaled("oxygen_gauge_pa", 1e-3)},
	{"fuel pressure (kPa gauge)", scaled("fuel_gauge_pa", 1e-3)},
	{"oxygen to fuel (ratio)", scaled("ratio", 1)},
	{"flame by eye", word(func(s Sheet) string { return s.Flame })},
	{"filler", word(func(s Sheet) string { return s.Filler })},
	{"filler diameter (mm)", scaled("filler_diameter_m", 1e3)},
	{"flux", word(func(s Sheet) string { return s.Flux })},
	{"travel speed (mm/min)", func(s Sheet) string { return scaledText(speedOf(s), 60e3) }},
	{"time taken (min)", scaled("duration_s", 1.0/60)},
	{"oxygen used (L at 15 degC and 101.325 kPa)", scaled("oxygen_used_std_m3", 1e3)},
	{"fuel used (L at 15 degC and 101.325 kPa)", scaled("fuel_used_std_m3", 1e3)},
	{"overall score (0 to 4)", func(s Sheet) string { return scaledText(BriefOf(s).Overall, 1) }},
	{"scores (0 to 4)", word(scoreList)},
	{"tests", word(testWords)},
	{"photos", func(s Sheet) string { return strconv.Itoa(len(s.Photos)) }},
	{"place", word(func(s Sheet) string { return s.Place })},
	{"what was wrong", word(func(s Sheet) string { return s.Wrong })},
	{"try next", word(func(s Sheet) string { return s.Next })},
	{"note", word(func(s Sheet) string { return s.Note })},
}

// CSV is a table of sheets after RFC 4180: comma, CRLF, a header with the unit of every number, decimal point, cells that were
// not noted empty.
//
// A spreadsheet takes a cell beginning with = + - @ (also in full width), tab or carriage return for a formula. A text that
// begins so gets an apostrophe in front, which spreadsheets do not show; that is the one thing that differs from what was
// written. The file of the whole journal has every text as it is.
func CSV(sheets []Sheet) []byte {
	var b strings.Builder
	writeRow(&b, func(c column) string { return c.head })
	return append([]byte(b.String()), CSVRows(sheets)...)
}

// CSVRows are the lines of further sheets, without the header: for a table that is made piece by piece.
func CSVRows(sheets []Sheet) []byte {
	var b strings.Builder
	for _, s := range sheets {
		writeRow(&b, func(c column) string { return c.of(s) })
	}
	return []byte(b.String())
}

func writeRow(b *strings.Builder, cell func(column) string) {
	for i, c := range columns {
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteString(quoted(cell(c)))
	}
	b.WriteString("\r\n")
}

// safeCell keeps a text from being run as a formula.
func safeCell(text string) string {
	for _, start := range []string{"=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠"} {
		if strings.HasPrefix(text, start) {
			return "'" + text
		}
	}
	return text
}

// quoted quotes a cell where RFC 4180 section 2 asks for it.
func quoted(text string) string {
	if !strings.ContainsAny(text, ",\"\r\n") {
		return text
	}
	return `"` + strings.ReplaceAll(text, `"`, `""`) + `"`
}

func yesNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

// scoreList names the scores given, in the order of the set.
func scoreList(s Sheet) string {
	var list []string
	for _, score := range ScoresFor(s.Work) {
		if v, ok := s.Scores[score.ID]; ok {
			list = append(list, score.Name+" "+strconv.Itoa(v))
		}
	}
	return strings.Join(list, "; ")
}
