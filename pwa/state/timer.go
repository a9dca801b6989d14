package state

import (
	"encoding/json"
	"fmt"
	"strconv"

	"torchside/storage"
)

// KindTimer is the kind of a timer's record.
const KindTimer = "timer"

// States of a timer. Whether the time is up is worked out, never stored.
const (
	TimerRunning = "running"
	TimerPaused  = "paused"
	TimerHeard   = "heard" // it ran out and somebody has said so
	TimerStopped = "stopped"
)

// Timer is one timer as its record holds it, schema 1:
//
//	{"for": "leak/oxygen_delivery/oxygen/1920000000000", "label": "Leak test, oxygen delivery", "state": "running",
//	 "start_ms": 1920000000000, "duration_ms": 600000, "paused_for_ms": 0, "paused_at_ms": 0,
//	 "purpose": "", "every_ms": 0, "rounds_ms": []}
//
// All instants are wall-clock times in milliseconds (Unix time). What is left is worked out from them, never counted, so that a timer
// survives a reload, a locked phone and a restart. paused_at_ms is 0 unless it is paused, or was stopped by hand. every_ms is how often it asks for a round of the
// room, 0 for never; rounds_ms are the times run when somebody had gone round. Fields this build does not know are kept.
type Timer struct {
	ID        string
	For       string // key of what it is for; "" for one of its own
	Label     string
	State     string
	Start     int64
	Duration  int64
	PausedFor int64
	PausedAt  int64
	Purpose   string  // one of the Purpose constants; "" for a leak test's
	Every     int64   // ms between rounds, 0 for none
	Rounds    []int64 // ms run when somebody had gone round

	extra  map[string]json.RawMessage
	record storage.Record
}

func (t *Timer) targets() map[string]any {
	return map[string]any{
		"for": &t.For, "label": &t.Label, "state": &t.State, "start_ms": &t.Start, "duration_ms": &t.Duration,
		"paused_for_ms": &t.PausedFor, "paused_at_ms": &t.PausedAt,
		"purpose": &t.Purpose, "every_ms": &t.Every, "rounds_ms": &t.Rounds,
	}
}

// ReadTimer reads a timer's record.
func ReadTimer(r storage.Record) (Timer, error) {
	t := Timer{ID: string(r.ID), record: r}
	extra, err := readKnown(r.Body, t.targets())
	if err != nil {
		return Timer{}, fmt.Errorf("timer %s: %w", r.ID, err)
	}
	t.extra = extra
	return t, nil
}

// Body returns the timer as it is stored. What only some timers have is left out where there is none, as older builds wrote it.
func (t Timer) Body() ([]byte, error) {
	fields := t.targets()
	for name, empty := range map[string]bool{"purpose": t.Purpose == "", "every_ms": t.Every == 0, "rounds_ms": len(t.Rounds) == 0} {
		if empty {
			delete(fields, name)
		}
	}
	return writeKnown(t.extra, fields)
}

// draft is the timer as a change of its record. Its fields are texts and numbers, which always can be written.
func (t Timer) draft() storage.Draft {
	body, err := t.Body()
	if err != nil {
		panic("writing a timer: " + err.Error())
	}
	return storage.Draft{Seen: t.record, Kind: KindTimer, Schema: max(Schema, t.record.Schema), Body: body}
}

// Over reports whether nobody waits for it any more.
func (t Timer) Over() bool { return t.State == TimerHeard || t.State == TimerStopped }

// Left is how long it still runs at an instant, in ms; negative once the time is up.
func (t Timer) Left(now int64) int64 {
	if t.State == TimerPaused || t.State == TimerStopped && t.PausedAt != 0 {
		now = t.PausedAt
	}
	return t.Duration - (now - t.Start - t.PausedFor)
}

// Before reports that the clock now stands before the start: somebody has set it back.
func (t Timer) Before(now int64) bool { return now < t.Start }

// paused and resumed stop it and let it go on.
func (t Timer) paused(now int64) Timer {
	t.State, t.PausedAt = TimerPaused, now
	return t
}

func (t Timer) resumed(now int64) Timer {
	t.PausedFor += max(0, now-t.PausedAt)
	t.State, t.PausedAt = TimerRunning, 0
	return t
}

// spanWords writes a span of time in ms for a person: "40 s", "7 min", "2 h 5 min".
func spanWords(ms int64) string {
	s := (ms + 500) / 1000
	switch {
	case s < 60:
		return strconv.FormatInt(s, 10) + " s"
	case s < 3600:
		return strconv.FormatInt(s/60, 10) + " min"
	case s%3600 < 60:
		return strconv.FormatInt(s/3600, 10) + " h"
	}
	return strconv.FormatInt(s/3600, 10) + " h " + strconv.FormatInt(s%3600/60, 10) + " min"
}
