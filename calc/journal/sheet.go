package journal

import "encoding/json"

// Kind is the kind of the records that hold sheets, DrillKind of those that hold the owner's own drills.
const (
	Kind      = "sheet"
	DrillKind = "drill"
)

// Schema is the form of the bodies that [Write] and [WriteDrill] make.
const Schema = 1

// Sheet is one entry of the journal. Empty words and nil numbers were not noted.
type Sheet struct {
	// At is when the work was begun, RFC 3339 with offset; Finished is false while the sheet is a draft.
	At       string `json:"at,omitempty"`
	Finished bool   `json:"finished,omitempty"`
	Sample   bool   `json:"sample,omitempty"` // belongs to the sample journal
	Title    string `json:"title,omitempty"`
	Place    string `json:"place,omitempty"`
	Drill    string `json:"drill,omitempty"` // ID of a drill

	Work       string   `json:"work,omitempty"`     // one of Works
	Metal      string   `json:"metal,omitempty"`    // one of Metals
	Joint      string   `json:"joint,omitempty"`    // one of Joints
	Position   string   `json:"position,omitempty"` // one of Positions
	ThicknessM *float64 `json:"thickness_m,omitempty"`

	Tip           string   `json:"tip,omitempty"`
	Fuel          string   `json:"fuel,omitempty"` // JSON name of the fuel gas
	OxygenGaugePa *float64 `json:"oxygen_gauge_pa,omitempty"`
	FuelGaugePa   *float64 `json:"fuel_gauge_pa,omitempty"`
	Ratio         *float64 `json:"ratio,omitempty"` // oxygen to fuel, as set
	Flame         string   `json:"flame,omitempty"` // as judged by eye, one of Flames

	Filler          string   `json:"filler,omitempty"`
	FillerDiameterM *float64 `json:"filler_diameter_m,omitempty"`
	Flux            string   `json:"flux,omitempty"`

	TravelLengthM   *float64 `json:"travel_length_m,omitempty"` // by the stopwatch: this length
	TravelS         *float64 `json:"travel_s,omitempty"`        // in this time
	DurationS       *float64 `json:"duration_s,omitempty"`      // of the whole work
	OxygenUsedStdM3 *float64 `json:"oxygen_used_std_m3,omitempty"`
	FuelUsedStdM3   *float64 `json:"fuel_used_std_m3,omitempty"`

	// Card is the settings card as it was: {"schema":1,"in":…,"out":…}. This package never looks into it.
	Card json.RawMessage `json:"card,omitempty"`

	Wrong string `json:"wrong,omitempty"` // what was wrong
	Next  string `json:"next,omitempty"`  // what to try next
	Note  string `json:"note,omitempty"`

	Photos  []Photo        `json:"photos,omitempty"`
	Scores  map[string]int `json:"scores,omitempty"`  // by Score.ID, 0 to MaxScore
	Skipped []string       `json:"skipped,omitempty"` // scores passed over on purpose
	Tests   []TestResult   `json:"tests,omitempty"`

	// Typed keeps numbers as they were typed, by the JSON name of the field, so that an editor shows the owner's own text.
	Typed map[string]string `json:"typed,omitempty"`

	extra map[string]json.RawMessage // what this build does not know
}

// Photo is one picture; the bytes are kept outside the sheet under their SHA-256.
type Photo struct {
	Hash      string   `json:"hash,omitempty"`
	ThumbHash string   `json:"thumb_hash,omitempty"`
	Role      string   `json:"role,omitempty"` // one of Roles
	W         int      `json:"w,omitempty"`
	H         int      `json:"h,omitempty"`
	Bytes     int      `json:"bytes,omitempty"`
	Type      string   `json:"type,omitempty"` // media type; empty is image/jpeg
	Name      string   `json:"name,omitempty"` // of a file that cannot be shown
	Caption   string   `json:"caption,omitempty"`
	Scale     *Scale   `json:"scale,omitempty"`
	BeadM     *float64 `json:"bead_width_m,omitempty"`       // measured on the photo
	BeadErrM  *float64 `json:"bead_width_error_m,omitempty"` // what BeadM may be off by from picking the points
	Draw      *Drawing `json:"draw,omitempty"`               // of the sample journal: drawn instead of taken

	extra map[string]json.RawMessage
}

// Scale is a known length in the picture: a coin or a rule between two points in pixels of the stored photo.
type Scale struct {
	X1 float64 `json:"x1"`
	Y1 float64 `json:"y1"`
	X2 float64 `json:"x2"`
	Y2 float64 `json:"y2"`
	M  float64 `json:"length_m"`
}

// TestResult is one bend or break test.
type TestResult struct {
	Test string `json:"test,omitempty"` // one of Tests
	Pass bool   `json:"pass"`
	Seen string `json:"seen,omitempty"`

	extra map[string]json.RawMessage
}

// TravelSpeed is the speed by the stopwatch in m/s; ok is false unless both length and time were noted and are above zero.
func (s Sheet) TravelSpeed() (speed float64, ok bool) {
	if s.TravelLengthM == nil || s.TravelS == nil || *s.TravelLengthM <= 0 || *s.TravelS <= 0 {
		return 0, false
	}
	return *s.TravelLengthM / *s.TravelS, true
}

// GasUsed is oxygen and fuel together in m³ at the standard state; ok is false unless one of them was noted. Both tells whether
// both were: one alone says less than it seems.
func (s Sheet) GasUsed() (used float64, both, ok bool) {
	for _, v := range []*float64{s.OxygenUsedStdM3, s.FuelUsedStdM3} {
		if v != nil {
			used, ok = used+*v, true
		}
	}
	return used, s.OxygenUsedStdM3 != nil && s.FuelUsedStdM3 != nil, ok
}

// Hashes are the names of all blobs of the sheet, sorted and each once, as a record lists them.
func (s Sheet) Hashes() []string {
	var list []string
	for _, p := range s.Photos {
		for _, h := range []string{p.Hash, p.ThumbHash} {
			if h != "" {
				list = append(list, h)
			}
		}
	}
	return sortedOnce(list)
}
