package storage

import (
	"fmt"
	"strconv"
	"time"
)

// HLC is a hybrid logical clock reading (Kulkarni et al., "Logical Physical
// Clocks", 2014): wall milliseconds, and a counter for what happens within
// one. It only breaks ties between heads; what came before what is told by
// parents, so a device whose clock is wrong loses no data.
type HLC struct {
	Milli   int64  // milliseconds since 1970 UTC, 0 to 2^48-1
	Counter uint32 // readings within the same millisecond
}

// maxMilli is the last millisecond that fits a version 7 id (48 bits).
const maxMilli = 1<<48 - 1

// maxAhead is how far ahead of our own clock another device's reading may be
// and still move ours: five minutes, so that one phone set to a wrong year
// does not drag all others along.
const maxAhead = 5 * 60 * 1000

// Next returns the reading of an event at the given wall time: later than h,
// and as near to the wall time as that allows.
func (h HLC) Next(now time.Time) HLC {
	wall := min(max(now.UnixMilli(), 0), maxMilli)
	switch {
	case wall > h.Milli:
		return HLC{Milli: wall}
	case h.Counter == 1<<32-1:
		return HLC{Milli: h.Milli + 1}
	}
	return HLC{Milli: h.Milli, Counter: h.Counter + 1}
}

// Observe returns the later of h and a reading seen from elsewhere, unless
// that one is more than five minutes ahead of the wall time.
func (h HLC) Observe(seen HLC, now time.Time) HLC {
	if seen.Milli > now.UnixMilli()+maxAhead || seen.Compare(h) <= 0 {
		return h
	}
	return seen
}

// Compare returns -1, 0 or 1 as h is before, at or after other.
func (h HLC) Compare(other HLC) int {
	switch {
	case h == other:
		return 0
	case h.Milli < other.Milli, h.Milli == other.Milli && h.Counter < other.Counter:
		return -1
	}
	return 1
}

// hlcText is the length of the text form: 12 digits, a dot, 8 digits.
const hlcText = 21

// String returns the reading as hexadecimal text of fixed length, which sorts
// as the readings do.
func (h HLC) String() string { return fmt.Sprintf("%012x.%08x", h.Milli, h.Counter) }

// MarshalText returns the form of String.
func (h HLC) MarshalText() ([]byte, error) {
	if h.Milli < 0 || h.Milli > maxMilli {
		return nil, fmt.Errorf("%w: clock reading of %d ms", ErrInvalid, h.Milli)
	}
	return []byte(h.String()), nil
}

// UnmarshalText reads the form of String and nothing else.
func (h *HLC) UnmarshalText(text []byte) error {
	read, err := parseHLC(string(text))
	if err != nil || read.String() != string(text) {
		return fmt.Errorf("%w: clock reading %q", ErrInvalid, text)
	}
	*h = read
	return nil
}

// parseHLC reads the two numbers; the caller checks that the form is exact.
func parseHLC(s string) (HLC, error) {
	if len(s) != hlcText {
		return HLC{}, ErrInvalid
	}
	milli, err := strconv.ParseUint(s[:12], 16, 48)
	if err != nil {
		return HLC{}, err
	}
	counter, err := strconv.ParseUint(s[13:], 16, 32)
	return HLC{Milli: int64(milli), Counter: uint32(counter)}, err
}
