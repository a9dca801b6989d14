// Package pwa is the app itself: the route table, the root component and, for the server only,
// how the app is wrapped into pages, worker and manifest (handler.go).
//
// Call Register once, then either run in the browser (cmd/wasm) or build the files to be served
// with Build (cmd/torchside). The package opens no database and no connection.
package pwa
