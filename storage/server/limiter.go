package server

import (
	"sync"
	"time"
)

// limiter lets each key (an address, a device) ask so many times at once and then at a steady
// pace: a token bucket for each. It holds a bounded number of keys.
type limiter struct {
	burst float64
	every time.Duration // one more request after this time

	mu   sync.Mutex
	keys map[string]bucket
}

type bucket struct {
	left float64
	seen time.Time
}

// maxKeys bounds the memory of a limiter. With more keys than that at once, those that have asked
// longest ago are forgotten.
const maxKeys = 4096

func newLimiter(burst int, every time.Duration) *limiter {
	return &limiter{burst: float64(burst), every: every, keys: map[string]bucket{}}
}

// take uses one request of the key. If there is none left it gives the time to wait, else zero.
func (l *limiter) take(key string, now time.Time) time.Duration {
	l.mu.Lock()
	defer l.mu.Unlock()
	b, known := l.keys[key]
	if !known {
		l.makeRoom(now)
		b = bucket{l.burst, now}
	}
	if passed := now.Sub(b.seen); passed > 0 {
		b.left = min(l.burst, b.left+float64(passed)/float64(l.every))
	}
	b.seen = now
	if b.left < 1 {
		l.keys[key] = b
		return time.Duration((1 - b.left) * float64(l.every))
	}
	b.left--
	l.keys[key] = b
	return 0
}

// makeRoom forgets keys that are as good as new, and if there are none the oldest.
func (l *limiter) makeRoom(now time.Time) {
	if len(l.keys) < maxKeys {
		return
	}
	oldest, at := "", now.Add(time.Hour)
	for key, b := range l.keys {
		if now.Sub(b.seen) > time.Duration(l.burst)*l.every {
			delete(l.keys, key)
		} else if b.seen.Before(at) {
			oldest, at = key, b.seen
		}
	}
	if len(l.keys) >= maxKeys {
		delete(l.keys, oldest)
	}
}
