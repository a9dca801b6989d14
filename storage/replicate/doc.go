// Package replicate keeps a device's store and a vault in step: it sends what
// waits, takes over what others made, and moves attachments, through a [Peer].
//
// Make one [Engine] for a store and call [Engine.Run] whenever there may be
// something to do: at the start of the app, when the page comes into view or
// the network returns, some seconds after an edit, and from time to time. How
// long to wait after a run, and after how many failed ones, [Wait] says. Only
// one Engine may run on the same data at a time: in a browser, hold a lock over
// all tabs.
//
// # Why nothing is lost
//
// A run may end at any point, and any of its calls may be done twice. An op
// stops waiting only after the vault confirmed it and, in the same exchange, the
// device's checkpoint has passed its place in the vault's log. Should the vault ever go back to an
// older state without the op, the checkpoint is then not one of its log, and
// the device offers everything it holds again. The checkpoint moves in the
// transaction that stores the ops it covers.
//
// An op the vault refuses is noted with the reason and holds up nothing.
package replicate
