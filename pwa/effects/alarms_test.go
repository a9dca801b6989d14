package effects

import (
	"slices"
	"strconv"
	"testing"

	"torchside/pwa/state"
)

// loudBrowser is a browser that can ring.
type loudBrowser struct {
	fakeBrowser
	heard []string
}

func (l *loudBrowser) SetAlarms(list []state.Alarm) {
	l.heard = append(l.heard, "alarms "+strconv.Itoa(len(list)))
}
func (l *loudBrowser) Ring(text string, short bool) {
	l.heard = append(l.heard, "ring "+text+map[bool]string{true: " short"}[short])
}
func (l *loudBrowser) Say(text string) { l.heard = append(l.heard, "say "+text) }
func (l *loudBrowser) Beat(p state.SetPace) {
	l.heard = append(l.heard, "beat "+strconv.FormatFloat(p.Seconds, 'g', -1, 64))
}

func TestRunner_rings_at_once_and_in_order(t *testing.T) {
	loud := &loudBrowser{}
	r := NewRunner(Ports{Browser: loud}, func(state.Msg) {})
	r.Run([]state.Effect{state.SetAlarms{Alarms: []state.Alarm{{ID: "a"}, {ID: "b"}}}, state.Ring{Text: "up"}, state.Ring{Text: "round", Short: true}, state.Say{Text: "up"}, state.SetPace{Seconds: 5}, state.SetAlarms{}})
	if want := []string{"alarms 2", "ring up", "ring round short", "say up", "beat 5", "alarms 0"}; !slices.Equal(loud.heard, want) {
		t.Errorf("heard %q, want %q", loud.heard, want)
	}
}

// A browser that cannot ring is no fault: timers are shown all the same.
func TestRunner_without_alarms_stays_silent(t *testing.T) {
	b := newBench(t)
	if got := b.run(state.SetAlarms{}, state.Ring{Text: "up"}, state.Say{Text: "up"}); len(got) != 0 || len(b.browser.done) != 0 {
		t.Errorf("%v %v", got, b.browser.done)
	}
}
