// Package idb keeps a store in the browser's IndexedDB. It is empty except for
// GOOS=js.
//
// Call [Open] once from a goroutine (never from a js.FuncOf callback, which
// must not wait) and use the store from goroutines.
//
// # What it promises
//
// Every write is one transaction with durability "strict", and a call returns
// only after the transaction's complete event: then the data is on the disk,
// as far as the browser and the system tell the truth. A browser killed after
// that loses nothing reported as saved; .ci/killtest.sh checks that.
//
// Phones drop the connection of a page in the background. A transaction that
// finds its connection gone is repeated once, whole, on a new one; a write that
// did reach the disk is recognised and not made twice. The connection is also
// given up whenever the page is hidden, and opened again at the next call.
//
// # Finding
//
// The index behind Find is kept as blocks (package postings), not as indexes of
// the browser: those take tens of microseconds for each key they pass, seconds
// for the terms of twenty thousand records. A save rewrites one block; a list
// that opens reads one or two; the first filter reads all of them, and later
// ones only what changed. The index is a copy: when its version changes, when
// it is damaged, or when an older program wrote to it, it is made anew in
// pages while the store is in use.
//
// Attachments are ArrayBuffers in a store of their own. A list of records or of
// attachments never reads their content.
//
// # Caveats
//
// Data belong to the address (scheme, host and port) of the page; another
// address sees none of them. A browser may throw the data of a page away that
// it was not asked to keep ([Store.Keep]), and some do so after seven days.
// Chromium itself may lose everything when it is killed in the middle of a
// write: seen once in some hundred such kills (version 156), and made again at
// will by cutting the last record of its log short. Nothing here can prevent
// that; an export, or a second device, is the only remedy.
//
// A call waits for the browser as long as its context allows: give it a limit.
//
// The database is only ever upgraded. One that a newer build has upgraded is
// refused with storage.ErrNewer; a tab still running when another upgrades
// gets storage.ErrClosed.
//
// # Why plain syscall/js
//
// The known Go bindings ask for strict durability, but give no access to the
// blocked and close events, close on a version change without telling their
// user, and panic where a browser has no IndexedDB. All of these must reach
// the person whose data it is. The part needed here is small.
package idb
