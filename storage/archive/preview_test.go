package archive_test

import (
	"context"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"testing"

	"torchside/storage"
	"torchside/storage/archive"
	"torchside/storage/memory"
	"torchside/storage/storagetest"
)

// What is foretold is what happens, for any two stores that share some of their history.
func TestPreview_foretells_what_an_import_does(t *testing.T) {
	ctx := context.Background()
	for seed := range uint64(40) {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			r := rand.New(rand.NewPCG(seed, 1))
			var here, there []storage.Op
			for _, op := range storagetest.RandomOps(seed, 200) {
				if r.IntN(10) < 6 {
					here = append(here, op)
				}
				if r.IntN(10) < 7 {
					there = append(there, op)
				}
			}
			s, file := filled(t, here), exportOf(t, filled(t, there))
			a := readBytes(t, file)
			before := fingerprint(t, s)
			plan, err := archive.Preview(ctx, s, a)
			if err != nil {
				t.Fatal(err)
			}
			if fingerprint(t, s) != before {
				t.Fatal("looking changed the store")
			}
			report := imported(t, s, file)
			total := 0
			for _, n := range slices.Concat(slices.Collect(maps.Values(plan.New)), slices.Collect(maps.Values(plan.Changed))) {
				total += n
			}
			if total != report.Records || plan.Blobs != report.Blobs || plan.Split != len(report.Split) || total+plan.Known != a.Manifest.Records {
				t.Errorf("foretold %+v, happened %+v", plan, report)
			}
			if again, err := archive.Preview(ctx, s, a); err != nil || len(again.New)+len(again.Changed)+again.Blobs != 0 || again.Known != a.Manifest.Records {
				t.Errorf("a second time it foretells %+v, %v", again, err)
			}
		})
	}
}

func TestPreview_counts_photos_and_kinds(t *testing.T) {
	full := journal(t)
	plan, err := archive.Preview(context.Background(), memory.New(), readBytes(t, exportOf(t, full)))
	if err != nil {
		t.Fatal(err)
	}
	if plan.Blobs != 30 || plan.New["sheet"] < 29 || len(plan.Changed) != 0 || plan.Known != 0 {
		t.Errorf("%+v", plan)
	}
}

func readBytes(t *testing.T, file []byte) *archive.Archive {
	t.Helper()
	a, err := read(file)
	if err != nil {
		t.Fatal(err)
	}
	return a
}
