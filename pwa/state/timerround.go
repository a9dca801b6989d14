package state

import "torchside/calc/words"

// Ran is how long a timer has run at an instant, in ms, without its pauses.
func (t Timer) Ran(now int64) int64 { return t.Duration - t.Left(now) }

// RoundDue reports whether somebody should go round the room now: a multiple of the interval has passed since the last round, and the
// end, which asks for the last round by itself, has not come.
func (t Timer) RoundDue(now int64) bool {
	ran := t.Ran(now)
	if t.Every <= 0 || t.State != TimerRunning || ran < t.Every || ran >= t.Duration {
		return false
	}
	asked := ran / t.Every * t.Every
	return len(t.Rounds) == 0 || t.Rounds[len(t.Rounds)-1] < asked
}

// roundBetween reports whether a round came due between two instants.
func (t Timer) roundBetween(before, now int64) bool {
	if t.Every <= 0 || t.Ran(now) >= t.Duration || t.Ran(before) < 0 {
		return false
	}
	return t.Ran(before)/t.Every < t.Ran(now)/t.Every
}

func (t Timer) roundText() string { return words.S("%s: go round the room now.", t.Label) }

// roundAlarms are the instants at which rounds will be due, from now on.
func (t Timer) roundAlarms(now int64) []Alarm {
	if t.Every <= 0 {
		return nil
	}
	var list []Alarm
	for at := (max(0, t.Ran(now))/t.Every + 1) * t.Every; at < t.Duration && len(list) < maxRoundAlarms; at += t.Every {
		list = append(list, Alarm{ID: t.ID, In: at - t.Ran(now), Text: t.roundText(), Short: true})
	}
	return list
}

// maxRoundAlarms is how many rounds the device is told of ahead: at the shortest interval more than the longest rule of a fire watch.
const maxRoundAlarms = 24
