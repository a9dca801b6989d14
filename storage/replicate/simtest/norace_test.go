//go:build !race

package simtest_test

// schedules is how many random ones are played.
const schedules = enough
