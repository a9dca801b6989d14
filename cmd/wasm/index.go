//go:build js

package main

import (
	"torchside/calc/journal"
	"torchside/storage"
)

// indexVersion goes up with every change of what journal.Index or storage.Index gives for a sheet: the store then makes its entries anew.
const indexVersion = 2

// index is what the store finds sheets by.
var index = storage.Index{Version: indexVersion, Of: func(kind string, body []byte) storage.Entry {
	sort, terms, brief := journal.Index(kind, body)
	return storage.Entry{Sort: sort, Terms: terms, Brief: brief}
}}

// queried are the kinds a shop has thousands of: they are asked for page by page, never loaded as a whole.
var queried = []string{journal.Kind}
