//go:build race

package simtest_test

// schedules is few with the race detector, which has little to find in one
// goroutine and takes ten times as long.
const schedules = 100
