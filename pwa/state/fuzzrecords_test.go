package state

import (
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"torchside/storage"
)

// bodied is a record that was read and can be written.
type bodied interface{ Body() ([]byte, error) }

// readers are the records beside parts that a body may be.
var readers = map[string]func(storage.Record) (bodied, error){
	"leak test":       func(r storage.Record) (bodied, error) { return ReadLeakTest(r) },
	"timer":           func(r storage.Record) (bodied, error) { return ReadTimer(r) },
	"upkeep done":     func(r storage.Record) (bodied, error) { return ReadUpkeepDone(r) },
	"upkeep interval": func(r storage.Record) (bodied, error) { return ReadUpkeepRule(r) },
	"cylinder entry":  func(r storage.Record) (bodied, error) { return ReadCylinderEntry(r) },
}

// A body is refused, or read; what was read can be written, and reading that again changes nothing.
func FuzzReadRecords(f *testing.F) {
	files, err := filepath.Glob("../../testdata/records/v1/bodies/*.json")
	if err != nil || len(files) == 0 {
		f.Fatalf("no examples: %v", err)
	}
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, body []byte) {
		for kind, read := range readers {
			one, err := read(storage.Record{Body: body})
			if err != nil {
				continue
			}
			text, err := one.Body()
			if err != nil {
				t.Fatalf("%s: what was read cannot be written: %v", kind, err)
			}
			again, err := read(storage.Record{Body: text})
			if err != nil {
				t.Fatalf("%s: what was written cannot be read: %v\n%s", kind, err, text)
			}
			same, err := again.Body()
			if err != nil || !reflect.DeepEqual(same, text) {
				t.Fatalf("%s: written again it is another (%v):\n%s\n%s", kind, err, text, same)
			}
		}
	})
}
