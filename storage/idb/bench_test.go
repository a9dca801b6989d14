//go:build js

package idb

import (
	"context"
	"crypto/rand"
	"testing"
	"time"

	"torchside/storage"
	"torchside/storage/storagetest"
)

// One saved change, durable: what a person waits for after a tap.
func BenchmarkStore_Save(b *testing.B) {
	s, err := Open(context.Background(), freshName(), storage.Index{})
	if err != nil {
		b.Fatal(err)
	}
	defer s.Close()
	author := storage.NewAuthor(s, time.Now, rand.Reader)
	body := make([]byte, 600)
	for b.Loop() {
		if _, err := author.Save(context.Background(), "sheet", 1, body); err != nil {
			b.Fatal(err)
		}
	}
}

// A page of 200 records out of a thousand.
func BenchmarkStore_List_page(b *testing.B) {
	s := benchStore(b)
	for b.Loop() {
		if _, err := s.List(context.Background(), storage.Query{Limit: 200}); err != nil {
			b.Fatal(err)
		}
	}
}

// An import of a thousand ops into empty data.
func BenchmarkStore_Append_1000(b *testing.B) {
	for b.Loop() {
		benchStore(b)
	}
}

func benchStore(b *testing.B) *Store {
	b.Helper()
	s, err := Open(context.Background(), freshName(), storage.Index{})
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { s.Close() })
	ops := storagetest.RandomOps(1, 1000)
	for i := range ops {
		ops[i].Parents, ops[i].Rec = nil, ops[i].ID // a record each
	}
	if _, err := s.Append(context.Background(), ops...); err != nil {
		b.Fatal(err)
	}
	return s
}
