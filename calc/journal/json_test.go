package journal_test

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"torchside/calc/journal"
	"torchside/calc/journal/journaltest"
)

// bodyOf writes a sheet and fails the test if it cannot be written.
func bodyOf(t testing.TB, s journal.Sheet) []byte {
	t.Helper()
	body, err := journal.Write(s)
	if err != nil {
		t.Fatal(err)
	}
	return body
}

// sheetOf reads a body and fails the test if it cannot be read.
func sheetOf(t testing.TB, body []byte) journal.Sheet {
	t.Helper()
	s, err := journal.Read(body)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestRead_gives_back_what_Write_was_given(t *testing.T) {
	for _, s := range append(journaltest.Sheets(200, 7), journal.Sample("2026-06-02T10:00:00+02:00")...) {
		if got := sheetOf(t, bodyOf(t, s)); !reflect.DeepEqual(got, s) {
			t.Fatalf("read %+v\nwrote %+v", got, s)
		}
	}
}

// A newer build may have written fields, words inside photos and tests, or another form of a field: nothing of it may get lost.
func TestWrite_keeps_what_this_build_does_not_know(t *testing.T) {
	const body = `{"work":"weld","ratio":{"low":1,"high":1.1},"weather":["wind",3],"photos":[{"hash":"` + hash + `","lens":"wide","scale":{"x1":0,"y1":0,"x2":100,"y2":0,"length_m":0.02}}],` +
		`"tests":[{"test":"break","pass":true,"load_n":900}]}`
	s := sheetOf(t, []byte(body))
	if got := s.Unread(); !reflect.DeepEqual(got, []string{"ratio", "weather"}) {
		t.Errorf("unread %q", got)
	}
	s.Note = "added here"
	again := map[string]any{}
	if err := json.Unmarshal(bodyOf(t, s), &again); err != nil {
		t.Fatal(err)
	}
	want := map[string]any{}
	if err := json.Unmarshal([]byte(body), &want); err != nil {
		t.Fatal(err)
	}
	want["note"] = "added here"
	if !reflect.DeepEqual(again, want) {
		t.Errorf("wrote %v\nwant %v", again, want)
	}
}

func TestWrite_keeps_an_unreadable_field_beside_the_value_that_replaced_it(t *testing.T) {
	s := sheetOf(t, []byte(`{"work":"weld","ratio":"rich"}`))
	s = s.WithNumber("ratio", ptr(1.1))
	body := string(bodyOf(t, s))
	if !strings.Contains(body, `"ratio":1.1`) || !strings.Contains(body, `"ratio_unread":"rich"`) {
		t.Error(body)
	}
}

func TestRead_refuses_only_what_is_no_object(t *testing.T) {
	for _, body := range []string{"", "null", "[]", "3", `{"work":`, "\xff"} {
		if _, err := journal.Read([]byte(body)); err == nil {
			t.Errorf("%q was read", body)
		}
	}
	if _, err := journal.Read([]byte(`{}`)); err != nil {
		t.Error(err)
	}
}

func FuzzRead_never_panics_and_never_loses_a_field(f *testing.F) {
	f.Add([]byte(`{"work":"weld","photos":[{"x":1}],"tests":7}`))
	f.Fuzz(func(t *testing.T, body []byte) {
		s, err := journal.Read(body)
		if err != nil || len(s.Check()) > 0 {
			return
		}
		var before, after map[string]json.RawMessage
		if json.Unmarshal(body, &before) != nil {
			t.Fatal("read what is no object")
		}
		if err := json.Unmarshal(bodyOf(t, s), &after); err != nil {
			t.Fatal(err)
		}
		for name := range before {
			if _, known := after[name]; !known && !emptyJSON(string(before[name])) {
				t.Errorf("%q was lost", name)
			}
		}
	})
}

// emptyJSON reports whether a value says "not noted".
func emptyJSON(v string) bool {
	switch strings.Join(strings.Fields(v), "") {
	case "null", `""`, "0", "-0", "0.0", "false", "[]", "{}":
		return true
	}
	return strings.HasPrefix(v, "0") || strings.HasPrefix(v, "-0")
}

const hash = "0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef"

func ptr(v float64) *float64 { return &v }
