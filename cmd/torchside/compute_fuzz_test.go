package main

import (
	"bufio"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Whatever is asked, a topic answers in whole lines of JSON or with one readable line of error; it does not panic.
func FuzzCompute_topics(f *testing.F) {
	for i, s := range subjects {
		f.Add(uint8(i), `{}`)
		if _, after, ok := strings.Cut(s.help, "{"); ok { // the example of the help
			f.Add(uint8(i), "{"+after[:strings.LastIndex(after, "}")+1])
		}
	}
	scripts, err := filepath.Glob("testdata/script/*.txt")
	if err != nil || len(scripts) == 0 {
		f.Fatalf("no scripts: %v", err)
	}
	for _, name := range scripts {
		text, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		for line := range strings.Lines(string(text)) {
			if line = strings.TrimSpace(line); strings.HasPrefix(line, "{") {
				for i := range subjects {
					f.Add(uint8(i), line)
				}
			}
		}
	}
	f.Fuzz(func(t *testing.T, which uint8, in string) {
		if len(in) > 1<<14 {
			return // many questions in one only take longer
		}
		var out strings.Builder
		err := subjects[int(which)%len(subjects)].answer(strings.NewReader(in), &out)
		if err != nil && (err.Error() == "" || strings.ContainsAny(err.Error(), "\r\n")) {
			t.Fatalf("an error of no line, or of several: %q", err)
		}
		for lines := bufio.NewScanner(strings.NewReader(out.String())); lines.Scan(); {
			if !json.Valid(lines.Bytes()) {
				t.Fatalf("not JSON: %s", lines.Bytes())
			}
		}
	})
}
