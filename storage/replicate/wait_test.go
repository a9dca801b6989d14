package replicate_test

import (
	"testing"
	"testing/quick"
	"time"

	"torchside/storage/replicate"
)

func TestWait_doubles_up_to_five_minutes_and_takes_away_up_to_half(t *testing.T) {
	for _, c := range []struct {
		failures int
		chance   float64
		want     time.Duration
	}{
		{0, 0, 60 * time.Second}, {0, 1, 30 * time.Second}, {-1, 0, 60 * time.Second},
		{1, 0, 2 * time.Second}, {2, 0, 4 * time.Second}, {3, 1, 4 * time.Second}, {7, 0, 128 * time.Second},
		{8, 0, 256 * time.Second}, {9, 0, 300 * time.Second}, {9, 0.5, 225 * time.Second}, {1 << 40, 1, 150 * time.Second},
		{1, -3, 2 * time.Second}, {1, 7, time.Second},
	} {
		if got := replicate.Wait(c.failures, c.chance); got != c.want {
			t.Errorf("after %d failures, chance %v: %v, want %v", c.failures, c.chance, got, c.want)
		}
	}
}

func TestWait_never_hurries_after_one_more_failure(t *testing.T) {
	law := func(failures uint8, chance float64) bool {
		now, then := replicate.Wait(1+int(failures), chance), replicate.Wait(2+int(failures), chance)
		return now <= then && now >= time.Second && then <= 5*time.Minute
	}
	if err := quick.Check(law, nil); err != nil {
		t.Error(err)
	}
}
