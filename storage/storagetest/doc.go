// Package storagetest holds what every store is tested with: [Run], one
// conformance suite for all adapters, including random operations checked
// against a plain list; [RandomOps], a source of op sets; and [Faulty], a store
// that fails on purpose, for tests of what the user is told.
//
// It is imported by tests only. An adapter's own test file hands Run a way to
// make empty data and to open it, and adds only what is particular to its
// medium.
package storagetest
