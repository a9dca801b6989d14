package state

import (
	"maps"
	"strconv"
	"strings"

	"torchside/calc/units"
	"torchside/calc/words"
	"torchside/storage"
)

// Pacer is the beat of travel, and the stopwatch of a bead.
type Pacer struct {
	Fields []FormField // the speed
	Step   string      // between two beats, a key of paceSteps
	Steps  []Option
	Every  float64 // s between two beats; 0 while it cannot be told
	Beats  string  // "12 a minute"
	Runs   bool
	Sound  bool
	Shake  bool
	Flash  bool
	// Problem says why it does not beat.
	Problem string

	Watch  Watch       // of the bead
	Bead   []FormField // its length and time
	Speed  string      // of the bead; "" while length or time are missing
	SpeedM float64     // the same in m/s

	texts map[string]string
	units units.System
}

// Keys of the fields, and of the draft.
const (
	paceSpeed  = "speed"
	beadLength = "length"
	beadTime   = "time"
	draftPacer = "pacer:"
)

// paceStep is a distance between two beats: its length in m, how many of them make the louder one, and how the distance is counted.
type paceStep struct {
	key, label string
	metres     float64
	accent     int
	each       float64
	unit       string
	places     int
}

var paceSteps = []paceStep{
	{key: "10mm", label: "10 mm", metres: 0.010, accent: 5, each: 10, unit: "mm"},
	{key: "5mm", label: "5 mm", metres: 0.005, accent: 2, each: 5, unit: "mm"},
	{key: "1/4in", label: "1/4 in", metres: 0.25 * units.Inch, accent: 4, each: 0.25, unit: "in", places: 2},
	{key: "1/8in", label: "1/8 in", metres: 0.125 * units.Inch, accent: 2, each: 0.125, unit: "in", places: 3},
}

// The beats a hand can follow, in s between two: common practice, no source.
const (
	paceFastest = 0.2
	paceSlowest = 60
)

// Messages of the pacer.
type (
	PaceTyped   struct{ Key, Text string }
	PaceStep    struct{ Step string }
	PaceSignal  struct{ Signal string } // "sound", "shake" or "flash" on or off
	PacePressed struct{}                // starts or stops the beat
	PaceLeft    struct{}                // the page is left: the beat ends
	BeadPressed struct{}                // starts or stops the stopwatch
	BeadTaken   struct{}                // puts length and time on a sheet, and the speed that follows from them
	BeadPaced   struct{}                // takes the speed of the bead for the beat
)

func (PaceTyped) msg()   {}
func (PaceStep) msg()    {}
func (PaceSignal) msg()  {}
func (PacePressed) msg() {}
func (PaceLeft) msg()    {}
func (BeadPressed) msg() {}
func (BeadTaken) msg()   {}
func (BeadPaced) msg()   {}

// SetPace has the device beat; without seconds it stops.
type SetPace struct {
	Seconds             float64
	Accent              int // every so many beats a stronger one
	Step                float64
	Unit                string
	Places              int
	Sound, Shake, Flash bool
}

func (SetPace) effect() {}

func reducePacer(a App, m Msg) (App, []Effect, bool) {
	switch m := m.(type) {
	case PaceTyped:
		a.Pacer.texts = maps.Clone(a.Pacer.texts)
		a.Pacer.texts[m.Key] = m.Text
		return did(a.paceChanged())
	case PaceStep:
		a.Pacer.Step = m.Step
		return did(a.paceChanged())
	case PaceSignal:
		a.Pacer = a.Pacer.toggled(m.Signal)
		return did(a.paceChanged())
	case PacePressed:
		a.Pacer.Runs = !a.Pacer.Runs
		return did(a.paceChanged())
	case PaceLeft:
		if !a.Pacer.Runs {
			return a, nil, true
		}
		a.Pacer.Runs = false
		return a, []Effect{SetPace{}}, true
	case BeadPressed:
		return did(a.beadPressed())
	case BeadTaken:
		return did(a.beadTaken())
	case BeadPaced:
		return did(a.beadPaced())
	}
	return a, nil, false
}

func (p Pacer) toggled(signal string) Pacer {
	switch signal {
	case "sound":
		p.Sound = !p.Sound
	case "shake":
		p.Shake = !p.Shake
	case "flash":
		p.Flash = !p.Flash
	}
	return p
}

// paceSpecs are the typed fields: of the beat, and of the bead.
var (
	paceSpec = numberSpec(paceSpeed, "Travel speed", "", units.QuantitySpeed, 10e-3/60, 3.0/60,
		"hand-held flames travel slower than 3 m, 10 ft a minute and never so slowly as 10 mm a minute (common practice, no source)").
		steps(stepTable{"mm/min": 10, "in/min": 0.5}).need()
	beadSpecs = []Spec{
		numberSpec(beadLength, "Length of the bead", "", units.QuantityLength, 0.001, 100, "a bead timed by stopwatch is not longer").in("mm", "in"),
		numberSpec(beadTime, "Time", "The stopwatch fills it in.", units.QuantityDuration, 0.1, 86400, "a stopwatch runs for a day at most").in("s", "s"),
	}
)

// readPacer reads the fields and works out beat and speed.
func (a App) readPacer() App {
	p := a.Pacer
	if p.texts == nil {
		p.texts, p.units, p.Sound, p.Flash, p.Shake = map[string]string{}, a.Prefs.Units, true, true, true
	}
	if strings.TrimSpace(p.texts[paceSpeed]+p.texts[beadLength]) == "" {
		p.units = a.Prefs.Units // nothing typed would change its meaning
	}
	if p.Step == "" {
		p.Step = paceSteps[0].key
		if a.Prefs.Units.IsUS() {
			p.Step = paceSteps[2].key
		}
	}
	p.Steps = nil
	for _, s := range paceSteps {
		p.Steps = append(p.Steps, Option{Value: s.key, Label: s.label})
	}
	speed, field := p.read(paceSpec)
	p.Fields = []FormField{field}
	p.Every, p.Beats, p.Problem = p.beat(speed)
	length, lengthField := p.read(beadSpecs[0])
	ran, timeField := p.read(beadSpecs[1])
	p.Bead, p.Speed, p.SpeedM = []FormField{lengthField, timeField}, "", 0
	if length.given && ran.given {
		p.SpeedM = length.si / ran.si
		p.Speed = words.Number(units.Format(units.QuantitySpeed, p.SpeedM, a.Prefs.Units.Unit(units.QuantitySpeed), 0))
	}
	a.Pacer = p
	return a
}

// field is a field of the page as it is read now.
func (p Pacer) field(s Spec) units.Field {
	f := s.Field
	f.Unit = s.unit(p.units)
	return f
}

func (p Pacer) read(s Spec) (reading, FormField) {
	text := p.texts[s.Key]
	r := readField(s, p.field(s), text)
	if strings.TrimSpace(text) == "" {
		r = reading{} // not filled in yet is no mistake
	}
	return r, formField(s, p.field(s), text, r)
}

// step is the chosen distance between two beats.
func (p Pacer) step() paceStep {
	for _, s := range paceSteps {
		if s.key == p.Step {
			return s
		}
	}
	return paceSteps[0]
}

// beat is the time between two beats, in s, and in words; or why there is none.
func (p Pacer) beat(speed reading) (every float64, said, problem string) {
	if !speed.given {
		return 0, "", ""
	}
	every = p.step().metres / speed.si
	switch {
	case every < paceFastest:
		return 0, "", words.S("One beat every %s s is too fast to follow; allowed: 0.2 to 60 s. Choose the longer step, or a lower speed.", short(every))
	case every > paceSlowest:
		return 0, "", words.S("One beat every %s s is too slow to follow; allowed: 0.2 to 60 s. Choose the shorter step, or a higher speed.", short(every))
	}
	return every, words.S("%s a minute, one every %s s", short(60/every), short(every)), ""
}

// short writes a number with three digits at most.
func short(v float64) string { return words.Number(strconv.FormatFloat(v, 'g', 3, 64)) }

// paceChanged reads the page again, keeps it, and has the device follow.
func (a App) paceChanged() (App, []Effect) {
	ran := a.Pacer.Runs
	a = a.readPacer()
	p := &a.Pacer
	p.Runs = ran && p.Every > 0
	if ran && !p.Runs && p.Problem == "" && p.Fields[0].Error == "" {
		p.Problem = "It does not beat yet: type the speed first."
	}
	if p.Runs && !p.Sound && !p.Shake && !p.Flash {
		p.Problem = "Sound, shake and light are all off: nobody notices the beat."
	}
	a, effects := a.keepPacer()
	return a, append(effects, p.pace())
}

// pace is what the device is to do now.
func (p Pacer) pace() SetPace {
	if !p.Runs {
		return SetPace{}
	}
	s := p.step()
	return SetPace{Seconds: p.Every, Accent: s.accent, Step: s.each, Unit: s.unit, Places: s.places, Sound: p.Sound, Shake: p.Shake, Flash: p.Flash}
}

// signals are the signals that are on, in one word for the draft.
func (p Pacer) signals() string {
	text := ""
	for _, one := range []struct {
		on   bool
		word string
	}{{p.Sound, "sound "}, {p.Shake, "shake "}, {p.Flash, "flash "}} {
		if one.on {
			text += one.word
		}
	}
	return text
}

func (a App) keepPacer() (App, []Effect) {
	p := a.Pacer
	return a, []Effect{KeepDraft{Key: draftPacer, Draft: Draft{Texts: maps.Clone(p.texts), Units: textOf(p.units),
		Choices: map[string]string{"step": p.Step, "signals": p.signals(), "watch": strconv.FormatInt(p.Watch.Start, 10)}}}}
}

// pacerRestored goes on with what was typed before a reload; a stopwatch that ran goes on by the time of day. The beat does not: no
// browser makes a sound before the page is touched.
func (a App) pacerRestored(d Draft) App {
	system := a.Prefs.Units
	if d.IsZero() || system.UnmarshalText([]byte(d.Units)) != nil {
		return a
	}
	p := &a.Pacer
	p.units, p.texts, p.Step = system, maps.Clone(d.Texts), d.Choices["step"]
	if p.texts == nil {
		p.texts = map[string]string{}
	}
	p.Sound, p.Shake, p.Flash = strings.Contains(d.Choices["signals"], "sound"), strings.Contains(d.Choices["signals"], "shake"), strings.Contains(d.Choices["signals"], "flash")
	p.Watch.Start, _ = strconv.ParseInt(d.Choices["watch"], 10, 64) // 0 is a watch that stands
	return a
}

// beadPressed starts the stopwatch, or stops it and notes the time.
func (a App) beadPressed() (App, []Effect) {
	p := &a.Pacer
	if !p.Watch.Runs() {
		p.Watch = Watch{Start: a.Clock.Wall, here: true, steady: a.Clock.Steady}
		return a.readPacer().keepPacer()
	}
	p.texts = maps.Clone(p.texts)
	p.texts[beadTime] = watchText(p.Watch.Elapsed(a.Clock))
	p.Watch = Watch{}
	return a.readPacer().keepPacer()
}

// beadPaced takes the speed of the bead for the beat.
func (a App) beadPaced() (App, []Effect) {
	if a.Pacer.SpeedM <= 0 {
		return a, nil
	}
	a.Pacer.texts = maps.Clone(a.Pacer.texts)
	a.Pacer.texts[paceSpeed] = units.Format(units.QuantitySpeed, a.Pacer.SpeedM, a.Pacer.field(paceSpec).Unit, 0)
	return a.paceChanged()
}

// BeadFits reports whether a sheet is open that can take the bead.
func (a App) BeadFits() bool { return a.Journal.Editor != nil && !a.Journal.Editor.Busy }

// beadTaken puts length and time on the sheet that is open, or on a new one, which starts with the settings card where one answers. What
// stood there before can be brought back.
func (a App) beadTaken() (App, []Effect) {
	p := a.Pacer
	if p.Speed == "" {
		return a, nil
	}
	var effects []Effect
	open := a.BeadFits()
	if !open {
		a, effects = a.beadSheet()
	}
	f := a.Journal.Editor
	if f == nil {
		return a, effects
	}
	before := maps.Clone(f.texts)
	a, more := a.edited(func(f *SheetForm) bool {
		for i, key := range []string{"travel_length_m", "travel_s"} {
			s := beadSpecs[i]
			r, _ := p.read(s)
			f.texts[key] = withUnit(s, p.field(s), p.texts[s.Key], r)
		}
		return true
	})
	if open {
		a.Undo = &Undo{Text: "Length and time are on the sheet.", key: f.Key, change: func(f *SheetForm) {
			for _, key := range []string{"travel_length_m", "travel_s"} {
				f.texts[key] = before[key]
			}
		}}
	}
	return a, append(effects, more...)
}

// beadSheet opens a new sheet for a bead.
func (a App) beadSheet() (App, []Effect) {
	if a.Setup.Card != nil && !a.Setup.Stale {
		if sheet, err := a.caught(); err == nil {
			return a.opening(a.newSheetForm(sheet, storage.Record{}))
		}
	}
	return a.sheetBegun("")
}
