package present

import (
	"strconv"
	"time"

	"torchside/calc/words"
)

// SyncFacts are the numbers of the sync a person sees.
type SyncFacts struct {
	Waiting           int
	Photos, AllPhotos int
	Left              int
	Synced            int64 // Unix time in ms
}

// SyncLine says how far device and server are in step.
func (f SyncFacts) SyncLine() string {
	switch {
	case f.Waiting > 0:
		return words.S("%s on this device alone, waiting to be sent", words.Count(f.Waiting, "change"))
	case f.Synced == 0:
		return "not yet in step"
	}
	return "everything entered here is on the server"
}

// PhotoLine says how far the photos are; "" when there are none to move.
func (f SyncFacts) PhotoLine() string {
	switch {
	case f.Left > 0:
		return words.S("%s waiting for a connection that costs nothing", words.Count(f.Left, "photo file"))
	case f.AllPhotos > 0:
		return words.S("%s of %s", strconv.Itoa(f.Photos), words.Count(f.AllPhotos, "photo file"))
	}
	return ""
}

// DayAndTime writes a time of day with its day; "never" for none.
func DayAndTime(ms int64) string {
	if ms == 0 {
		return "never"
	}
	return Moment(ms)
}

// Written writes a time as a change holds it (RFC 3339), as the clock of the device that wrote it stood; as it is when it is none.
func Written(at string) string {
	t, err := time.Parse(time.RFC3339, at)
	if err != nil {
		return at
	}
	return t.Format("2006-01-02 15:04")
}

// TimeOfDay writes the time alone.
func TimeOfDay(ms int64) string { return time.UnixMilli(ms).Format("15:04") }

// SpacedCode groups the digits of a code by four, as it is read out.
func SpacedCode(code string) string {
	if len(code) != 8 {
		return code
	}
	return code[:4] + " " + code[4:]
}
