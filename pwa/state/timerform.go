package state

import (
	"maps"
	"strconv"
	"strings"

	"torchside/calc/units"
	"torchside/calc/words"
	"torchside/storage"
)

// TimerForm is the timer being set.
type TimerForm struct {
	Purpose  string
	Purposes []Option
	Caution  string // stands before the times
	Source   string // of the caution
	Rules    []TimerRule
	Fields   []FormField
	// Less warns of a time that is shorter than the longest rule; Named tells what it will be called when the name is taken.
	Less, Named string
	Problem     string // why it was not started
	Busy        bool

	texts   map[string]string
	units   units.System
	checked bool
	si      map[string]float64
	lain    int64 // s the cylinder lay down; 0 when it was not said
}

// Keys of the form, and of its draft.
const (
	timerName   = "name"
	timerRun    = "run"
	timerLain   = "lain"
	timerEvery  = "every"
	draftTimer  = "timer:"
	roundsEvery = "10" // min: how often a fire watch asks for a round until the owner says otherwise; common practice, no source
)

// The shortest and the longest timer, in s: a purge takes seconds, and what takes more than three days is a date, not a timer.
const (
	timerShortest = 6
	timerLongest  = 3 * 24 * 3600
)

// everyOptions are how often to go round; the value is minutes.
var everyOptions = []Option{{Value: "5", Label: "5 min"}, {Value: "10", Label: "10 min"}, {Value: "15", Label: "15 min"}, {Value: "0", Label: "Never"}}

// Messages of the form.
type (
	// TimerTyped fills in a field, TimerPurposeChosen chooses what the next timer is for, TimerStarted starts it.
	TimerTyped         struct{ Key, Text string }
	TimerPurposeChosen struct{ Purpose string }
	TimerStarted       struct{}
	// TimersShown reads the form again: the settings card, which a purge goes by, may be another.
	TimersShown struct{}
)

func (TimerTyped) msg()         {}
func (TimerPurposeChosen) msg() {}
func (TimerStarted) msg()       {}
func (TimersShown) msg()        {}

// timerSpecs are the fields for a purpose.
func (a App) timerSpecs(p purpose) []Spec {
	run := numberSpec(timerRun, "Run for", "", units.QuantityDuration, timerShortest, timerLongest,
		"a purge takes seconds; what takes more than three days is kept as a date, under Upkeep").in("min", "min").steps(stepTable{"min": 5})
	if rules := a.timerRules(p); len(rules) > 0 {
		run.Help = words.S("Empty: %s, the longest of these.", spanWords(rules[0].Seconds*1000))
	} else {
		run = run.need()
	}
	name := textSpec(timerName, "Name", words.S("Shown on every page. Empty: “%s”.", p.title))
	switch p.key {
	case PurposeFire:
		every := choiceSpec(timerEvery, "Ask me to go round every", everyOptions)
		return []Spec{run, every, name}
	case PurposeSettle:
		lain := numberSpec(timerLain, "How long did it lie?", "May stay empty.", units.QuantityDuration, 0, timerLongest/2,
			"twice a longer time is more than three days: note in the cylinder log when it was stood up").in("min", "min")
		return []Spec{lain, run, name}
	}
	return []Spec{run, name}
}

// readTimerForm reads the form of the next timer.
func (a App) readTimerForm() App {
	f := a.Timers.Form
	if f.texts == nil {
		f.texts, f.units = map[string]string{}, a.Prefs.Units
	}
	p := purposeOf(f.Purpose)
	f.Purpose, f.Caution, f.Source, f.si, f.lain = p.key, p.caution, p.source, map[string]float64{}, 0
	f.Purposes, f.Fields = nil, nil
	for _, one := range purposes {
		f.Purposes = append(f.Purposes, Option{Value: one.key, Label: one.title})
	}
	a.Timers.Form = f
	for _, s := range a.timerSpecs(p) {
		a.Timers.Form.Fields = append(a.Timers.Form.Fields, a.readTimerField(s))
		a.Timers.Form.lain = int64(f.si[timerLain])
	}
	// How long the cylinder lay decides what an empty time means, so that is read once more.
	f = a.Timers.Form
	for i, s := range a.timerSpecs(p) {
		f.Fields[i] = a.readTimerField(s)
	}
	f.Rules = a.timerRules(p)
	f.Less, f.Named = f.less(), ""
	if name := a.timerName(p); a.freeTimerName(name) != name {
		f.Named = words.S("A timer “%s” runs already: this one will be called “%s”.", name, a.freeTimerName(name))
	}
	a.Timers.Form = f
	return a
}

func (a App) readTimerField(s Spec) FormField {
	f := a.Timers.Form
	text := f.texts[s.Key]
	switch s.Type {
	case TypeChoice:
		if text == "" {
			text = roundsEvery
		}
		return FormField{Key: s.Key, Label: s.Label, Type: TypeChoice, Text: text, Options: s.Options}
	case TypeText:
		return FormField{Key: s.Key, Label: s.Label, Help: s.Help, Type: TypeText, Text: text, Error: nameError(s, text)}
	}
	field := s.Field
	field.Unit = s.unit(f.units)
	r := readField(s, field, text)
	if strings.TrimSpace(text) == "" && !f.checked {
		r = reading{}
	}
	delete(f.si, s.Key)
	if r.given {
		f.si[s.Key] = r.si
	}
	return formField(s, field, text, r)
}

// maxTimerName is the longest name of a timer, in letters: it stands on every page in one line or two.
const maxTimerName = 60

func nameError(s Spec, text string) string {
	if n := len([]rune(text)); n > maxTimerName {
		return words.S("%s: read %s letters; allowed: up to %s, because it stands on every page beside the time.", s.Label, strconv.Itoa(n), strconv.Itoa(maxTimerName))
	}
	return ""
}

// seconds is how long the next timer runs: as typed, else the longest rule; ok is false while neither is there.
func (f TimerForm) seconds() (s int64, ok bool) {
	if si, typed := f.si[timerRun]; typed {
		return int64(si + 0.5), true
	}
	if len(f.Rules) == 0 {
		return 0, false
	}
	return f.Rules[0].Seconds, true
}

// less warns of a time shorter than a rule asks for.
func (f TimerForm) less() string {
	s, ok := f.seconds()
	if !ok || f.Purpose == PurposeLeak || f.Purpose == PurposePurge {
		return ""
	}
	for _, r := range f.Rules {
		if s < r.Seconds {
			return words.S("Shorter than %s, which %s asks for. The longer time is the safer one.", spanWords(r.Seconds*1000), r.Source)
		}
	}
	return ""
}

// timerName is the name typed, or that of the purpose.
func (a App) timerName(p purpose) string {
	if name := strings.TrimSpace(a.Timers.Form.texts[timerName]); name != "" {
		return name
	}
	return p.title
}

// freeTimerName is a name no running timer has: two timers with one name could not be told apart by ear.
func (a App) freeTimerName(name string) string {
	free := name
	for n := 2; a.timerNamed(free); n++ {
		free = name + countWord(n)
	}
	return free
}

func (a App) timerNamed(name string) bool {
	for _, t := range a.Timers.Running {
		if strings.EqualFold(t.Label, name) {
			return true
		}
	}
	return false
}

func (a App) timerTyped(key, text string) (App, []Effect) {
	a.Timers.Form.texts = maps.Clone(a.Timers.Form.texts)
	a.Timers.Form.texts[key] = text
	a.Timers.Form.Problem = ""
	return a.readTimerForm().keepTimerForm()
}

// purposeChosen keeps the name and what else was typed; the time is of another purpose then, and is asked for anew.
func (a App) purposeChosen(key string) (App, []Effect) {
	f := &a.Timers.Form
	if f.Purpose != key {
		f.texts = maps.Clone(f.texts)
		delete(f.texts, timerRun)
	}
	f.Purpose, f.Problem, f.checked = key, "", false
	return a.readTimerForm().keepTimerForm()
}

func (a App) keepTimerForm() (App, []Effect) {
	f := a.Timers.Form
	return a.notSavedNow(), []Effect{KeepDraft{Key: draftTimer, Draft: Draft{Texts: maps.Clone(f.texts), Units: textOf(f.units), Choices: map[string]string{"purpose": f.Purpose}}}}
}

// timerRestored goes on with what was typed before a reload.
func (a App) timerRestored(d Draft) App {
	f := &a.Timers.Form
	f.units = a.Prefs.Units
	if d.IsZero() || f.units.UnmarshalText([]byte(d.Units)) != nil {
		return a
	}
	f.texts, f.Purpose = maps.Clone(d.Texts), d.Choices["purpose"]
	if f.texts == nil {
		f.texts = map[string]string{}
	}
	return a
}

// timerStarted starts the timer that was set, unless something is wrong with it.
func (a App) timerStarted() (App, []Effect) {
	if a.Timers.Form.Busy {
		return a, nil
	}
	a.Timers.Form.checked = true
	a = a.readTimerForm()
	f := a.Timers.Form
	if key := firstError(f.Fields); key != "" {
		a.Timers.Form.Problem = "Not started: see the marked field. What you typed is kept."
		return a, []Effect{ShowTop{Act: "timer-" + key}}
	}
	s, _ := f.seconds() // a form without mistakes has one
	p := purposeOf(f.Purpose)
	t := Timer{Purpose: p.key, Label: a.freeTimerName(a.timerName(p)), State: TimerRunning, Start: a.Clock.Wall, Duration: s * 1000, Every: a.roundsOf(p)}
	a.Timers.Form.Busy = true
	return a.write(pending{drafts: []storage.Draft{t.draft()}, start: true, then: timerRuns})
}

// roundsOf is how often the next timer asks for a round, in ms.
func (a App) roundsOf(p purpose) int64 {
	if p.key != PurposeFire {
		return 0
	}
	text := a.Timers.Form.texts[timerEvery]
	if text == "" {
		text = roundsEvery
	}
	for _, o := range everyOptions {
		if o.Value == text {
			return int64(minutesOf(text)) * 60000
		}
	}
	return 0
}

// timerRefused says that the timer was not started; what was typed is in the form still.
func (a App) timerRefused(err error) App {
	a.Timers.Form.Busy = false
	a.Timers.Form.Problem = words.S("Not started: %s. What you typed is kept here; until it can be saved, use another clock.", storeReason(err))
	return a
}

// timerRuns empties the form: what was typed is in the timer now.
func timerRuns(a App, _ []storage.Record) (App, []Effect) {
	a.Timers.Form = TimerForm{Purpose: a.Timers.Form.Purpose}
	return a.readTimerForm(), []Effect{KeepDraft{Key: draftTimer}, ShowTop{}}
}
