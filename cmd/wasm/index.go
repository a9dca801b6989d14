//go:build js

package main

import (
	"torchside/calc/journal"
	"torchside/storage"
)

// index is what the store finds sheets by.
var index = storage.Index{Version: journal.IndexVersion, Of: func(kind string, body []byte) storage.Entry {
	sort, terms, brief := journal.Index(kind, body)
	return storage.Entry{Sort: sort, Terms: terms, Brief: brief}
}}

// queried are the kinds a shop has thousands of: they are asked for page by page, never loaded as a whole.
var queried = []string{journal.Kind}
