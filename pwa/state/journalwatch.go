package state

import (
	"strconv"

	"torchside/calc/journal"
	"torchside/calc/units"
)

// Watch is the stopwatch of a sheet being written. It goes by the time of day, so that it goes on while the page is away, and by the
// steady clock as long as the page stays, which nobody sets.
type Watch struct {
	Start  int64 // Unix time in ms it was started at; 0 while it stands
	here   bool  // started since the page was opened: steady then says when
	steady int64
}

// Runs reports whether the watch is running.
func (w Watch) Runs() bool { return w.Start != 0 }

// Elapsed is how long it has run, ms; never less than nothing, whatever is done to the clock.
func (w Watch) Elapsed(c Clock) int64 {
	if !w.Runs() {
		return 0
	}
	if w.here {
		return max(0, c.Steady-w.steady)
	}
	return max(0, c.Wall-w.Start)
}

// Messages of the stopwatch and of what was seen in a test.
type (
	// SheetWatchPressed starts the stopwatch, or stops it and notes the time.
	SheetWatchPressed struct{}
	// SheetTestSeen is what was seen in a test, as typed.
	SheetTestSeen struct {
		Index int
		Text  string
	}
)

func (SheetWatchPressed) msg() {}
func (SheetTestSeen) msg()     {}

func reduceSheetWatch(a App, m Msg) (App, []Effect, bool) {
	switch m := m.(type) {
	case SheetWatchPressed:
		return did(a.watchPressed())
	case SheetTestSeen:
		return did(a.edited(func(f *SheetForm) bool {
			if m.Index < 0 || m.Index >= len(f.sheet.Tests) {
				return false
			}
			f.sheet.Tests[m.Index].Seen = m.Text
			return true
		}))
	}
	return a, nil, false
}

// watchPressed starts or stops the watch. A time that was noted before is replaced only when the watch stops.
func (a App) watchPressed() (App, []Effect) {
	clock := a.Clock
	return a.edited(func(f *SheetForm) bool {
		if f.Busy {
			return false
		}
		if !f.Watch.Runs() {
			f.Watch = Watch{Start: clock.Wall, here: true, steady: clock.Steady}
			return clock.Wall != 0
		}
		f.texts["travel_s"] = watchText(f.Watch.Elapsed(clock))
		f.Watch = Watch{}
		return true
	})
}

// TestNoted notes a bend or break test, by its word.
func TestNoted(test string, pass bool) Msg {
	return SheetTested{Result: journal.TestResult{Test: test, Pass: pass}}
}

// watchText is a time as the field of it reads it: tenths of a second, which is what a thumb can do.
func watchText(ms int64) string {
	return strconv.FormatFloat(float64(ms)/1000, 'f', 1, 64) + " s"
}

// Watching reports whether a stopwatch runs, so that its figures have to be drawn anew every second.
func (a App) Watching() bool {
	return a.Pacer.Watch.Runs() || a.Journal.Editor != nil && a.Journal.Editor.Watch.Runs()
}

// speedText is the travel speed of a sheet in the owner's units; "" while length or time are missing.
func (a App) speedText(s journal.Sheet) string {
	v, ok := s.TravelSpeed()
	if !ok {
		return ""
	}
	return units.Format(units.QuantitySpeed, v, a.Prefs.Units.Unit(units.QuantitySpeed), 0)
}
