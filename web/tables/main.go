// Command tables makes the book of bench tables, web/static/tables.json, out of the reference tables in testdata/reference and the
// drill and gauge tables of calc/units. The result is committed; a test fails when it is not that of the tables.
//
//	go run ./web/tables
package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
)

const (
	from   = "testdata/reference"
	target = "web/static/tables.json"
)

func main() {
	if err := run(from, target); err != nil {
		fmt.Fprintln(os.Stderr, "tables:", err)
		os.Exit(1)
	}
}

func run(from, target string) error {
	body, err := file(from)
	if err != nil {
		return err
	}
	return os.WriteFile(target, body, 0o644)
}

// file is the book as it is written: one entry a line, so that a change of one row is a change of one line.
func file(from string) ([]byte, error) {
	b, err := bookOf(from)
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	encoder := json.NewEncoder(&out)
	encoder.SetEscapeHTML(false)
	if err := encoder.Encode(b); err != nil {
		return nil, err
	}
	lines := bytes.ReplaceAll(out.Bytes(), []byte(`},{"n":`), []byte("},\n{\"n\":"))
	return bytes.ReplaceAll(lines, []byte(`},{"id":`), []byte("},\n\n{\"id\":")), nil
}
