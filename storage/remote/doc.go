// Package remote reaches a vault over HTTP: it is the device's end of storage/server. A [Client] is
// the peer that storage/replicate keeps a store in step with, and manages the shop's devices.
//
// In the browser it goes through the page's own fetch, elsewhere through net/http; the two differ
// only in the file they are in. Errors are a *wire.Error where the server answered, and any other
// error where it was not reached or its answer was lost: then what was asked may have been done.
package remote
