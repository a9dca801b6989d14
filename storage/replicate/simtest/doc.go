// Package simtest puts phones, a vault and a bad network through everything
// that can go wrong, in one goroutine and from one seed, and checks after each
// step that nothing is lost. It is test code: a schedule that fails can be
// repeated, made shorter with [Shrink], and kept as a file.
//
// [Random] makes a schedule; [Run] plays it: phones edit, are cut off, crash
// between any two steps, fill up, are wiped, copied and put back; the vault
// crashes before or after any commit, fills up, is put back to an older state or
// replaced; the network drops, doubles, delays, reorders and damages what it
// carries. Then everything is healed, and all must hold the same.
package simtest
