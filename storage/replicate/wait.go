package replicate

import "time"

// When to run again.
const (
	AfterEdit = 2 * time.Second  // after a change was saved, so that several go together
	Every     = 60 * time.Second // after a run that went well, while the app is in view
	Silence   = 15 * time.Second // without a byte from the vault: give the call up
	firstWait = 2 * time.Second
	longest   = 5 * time.Minute
)

// Wait returns how long to wait after the given number of runs that failed one
// after the other: twice as long each time, up to five minutes. chance is from
// 0 to 1 and takes away up to half, so that devices which lost the same vault
// do not all return at once.
func Wait(failures int, chance float64) time.Duration {
	wait := Every
	if failures > 0 {
		wait = longest
		if doublings := failures - 1; doublings < 8 { // 2 s · 2^8 is above five minutes
			wait = min(longest, firstWait<<doublings)
		}
	}
	return wait - time.Duration(float64(wait)/2*min(max(chance, 0), 1))
}
