// Package effects does what package state asks for: it writes to the store, keeps drafts in the browser, hands files over. It
// is the only place of the app that waits.
//
// A [Runner] has one queue. Everything that touches the store goes through it, one after the other and in the order it was
// asked for, so that two quick changes cannot overtake each other; the answers come back as messages. What the browser does
// at once (drafts, theme) is done at once, so that a typed letter is kept before the next one.
//
// The package knows the storage contract, not any store: [Ports] are filled in by the program that starts the app.
package effects
