package state

import (
	"encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"torchside/storage"
)

// savedBodies is where bodies of earlier builds are kept; files are added there and never changed.
const savedBodies = "../../testdata/records/v1/bodies"

type savedBody struct {
	Kind   string
	Schema int
	Body   json.RawMessage
}

func readSaved(t *testing.T) map[string]savedBody {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(savedBodies, "*.json"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no saved bodies: %v", err)
	}
	saved := map[string]savedBody{}
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		var b savedBody
		if err := json.Unmarshal(text, &b); err != nil {
			t.Fatalf("%s: %v", f, err)
		}
		saved[strings.TrimSuffix(filepath.Base(f), ".json")] = b
	}
	return saved
}

// Bodies written by earlier builds, and by newer ones, still open; written again they hold everything they held.
func TestSaved_bodies_open_and_lose_nothing_when_written_again(t *testing.T) {
	kindsSeen := map[string]bool{}
	for name, saved := range readSaved(t) {
		kindsSeen[saved.Kind] = true
		t.Run(name, func(t *testing.T) {
			again := rewritten(t, saved)
			var before, after any
			if err := json.Unmarshal(saved.Body, &before); err != nil {
				t.Fatal(err)
			}
			if err := json.Unmarshal(again, &after); err != nil {
				t.Fatal(err)
			}
			if !reflect.DeepEqual(before, after) {
				t.Errorf("was  %v\nis   %v", before, after)
			}
		})
	}
	wanted := []string{KindPreference, KindTimer, KindLeakTest, KindUpkeepDone, KindUpkeepRule, KindCylinderLog}
	for k := range kinds {
		wanted = append(wanted, string(k))
	}
	for _, k := range wanted {
		if !kindsSeen[k] {
			t.Errorf("no saved body of kind %s", k)
		}
	}
}

func rewritten(t *testing.T, saved savedBody) []byte {
	t.Helper()
	record := storage.Record{Kind: saved.Kind, Schema: saved.Schema, Body: saved.Body}
	switch saved.Kind {
	case KindTimer:
		timer, err := ReadTimer(record)
		if err != nil {
			t.Fatal(err)
		}
		return timer.draft().Body
	case KindUpkeepDone:
		d, err := ReadUpkeepDone(record)
		if err != nil {
			t.Fatal(err)
		}
		return mustBody(t, d.Body)
	case KindCylinderLog:
		e, err := ReadCylinderEntry(record)
		if err != nil {
			t.Fatal(err)
		}
		return mustBody(t, e.Body)
	case KindUpkeepRule:
		u, err := ReadUpkeepRule(record)
		if err != nil {
			t.Fatal(err)
		}
		return mustBody(t, u.Body)
	case KindLeakTest:
		test, err := ReadLeakTest(record)
		if err != nil {
			t.Fatal(err)
		}
		return test.draft().Body
	}
	if saved.Kind == KindPreference {
		b, err := readPref(saved.Body)
		if err != nil {
			t.Fatal(err)
		}
		text, err := writeKnown(b.extra, b.targets())
		if err != nil {
			t.Fatal(err)
		}
		return text
	}
	p, err := ReadPart(record)
	if err != nil {
		t.Fatal(err)
	}
	text, err := p.Body()
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// A saved rig opens, shows, and answers; a form opened on its parts and saved untouched changes no number.
func TestSaved_bodies_make_a_rig_whose_forms_change_nothing(t *testing.T) {
	w := newWorld(t)
	for _, saved := range readSaved(t) {
		records, err := w.author.Write(t.Context(), storage.Draft{Kind: saved.Kind, Schema: saved.Schema, Body: saved.Body})
		if err != nil || len(records) != 1 {
			t.Fatal(err)
		}
	}
	w.restart()
	if textOf(w.app.Prefs.Units) != "us;pressure=bar" || !sameSI(w.app.Prefs.number(PrefTemperature), 283.15) {
		t.Errorf("preferences %+v", w.app.Prefs)
	}
	for id, p := range w.app.Rig.parts {
		w.post(PartOpened{ID: id})
		w.post(FormSaved{})
		if w.app.Rig.Form != nil {
			t.Errorf("%s %s cannot be saved as it is: %+v", p.Kind, p.Name, w.app.Rig.Form.Fields)
			w.post(FormCancelled{})
			continue
		}
		after, _ := w.app.part(id)
		for key, v := range p.Values {
			if after.Values[key].SI != v.SI {
				t.Errorf("%s of %s was %v, is %v", key, p.Kind, v.SI, after.Values[key].SI)
			}
		}
	}
}

// A body that cannot be read is left alone, told of, and the rest of the rig works.
func TestDamaged_bodies_are_kept_and_told_of(t *testing.T) {
	for _, body := range []string{"", "null", "[]", "{", `{"values":{"length":{"si":"five"}}}`, `{"name":3}`, `{"choices":[]}`} {
		w := byHand(t)
		if _, err := w.author.Write(t.Context(), storage.Draft{Kind: "hose", Schema: 1, Body: []byte(body)}); err != nil {
			t.Fatal(err)
		}
		w.restart()
		if len(w.app.Notices) != 1 || w.app.Notices[0].Code != NoticeDamaged {
			t.Errorf("body %q: notices %+v", body, w.app.Notices)
		}
		if len(w.app.Rig.Missing) != 0 || len(w.app.export().(Export).Records) != 11 {
			t.Errorf("body %q: missing %v", body, w.app.Rig.Missing)
		}
	}
}

func FuzzReadPart(f *testing.F) {
	f.Add([]byte(`{"name":"x","values":{"length":{"si":5,"typed":"5","unit":"m"}}}`))
	f.Add([]byte(`{"choices":null,"values":null,"dates":null}`))
	f.Fuzz(func(t *testing.T, body []byte) {
		p, err := ReadPart(storage.Record{Kind: "hose", Body: body})
		if err != nil {
			return
		}
		text, err := p.Body()
		if err != nil {
			t.Fatalf("what was read cannot be written: %v", err)
		}
		if _, err := ReadPart(storage.Record{Kind: "hose", Body: text}); err != nil {
			t.Fatalf("what was written cannot be read: %v", err)
		}
	})
}

// A value without its number is a fault of the record, never a zero.
func TestValue_without_its_number_is_refused(t *testing.T) {
	for _, text := range []string{`{"typed":"3 mm"}`, `{"si":null,"typed":"3 mm"}`, `{"si":"3"}`} {
		var v Value
		if err := v.UnmarshalJSON([]byte(text)); err == nil {
			t.Errorf("%s was read as %v", text, v.SI)
		}
	}
}

func mustBody(t *testing.T, body func() ([]byte, error)) []byte {
	t.Helper()
	text, err := body()
	if err != nil {
		t.Fatal(err)
	}
	return text
}
