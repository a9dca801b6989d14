package words

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"maps"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "add to the catalogues the texts they lack, still empty, and take out those no longer used")

// stays lists texts that are the same in every language, or that no screen shows: titles of sources, formulas, names.
const stays = "testdata/stays.txt"

// short lists single words that are shown, or put into another text, and look like names for the program; and, marked so, what
// stands for a text where there is little room.
const short = "testdata/short.txt"

const folder = "../../web/static/words/"

// Every text that is shown has its words in each catalogue, and nothing else is in there.
func TestCatalogues_haveEveryTextAndNoOther(t *testing.T) {
	want := wanted(t)
	for _, code := range []string{Spanish, German} {
		texts := catalogueOf(t, code)
		if *update {
			write(t, code, texts, want)
			texts = catalogueOf(t, code)
		}
		for _, key := range slices.Sorted(maps.Keys(want)) {
			if texts[key] == "" {
				t.Errorf("%s.json does not say %q: run go test ./calc/words -run Catalogues -update, then write it there (or list it in calc/words/%s)", code, key, stays)
			}
		}
		for key := range texts {
			if !want[key] {
				t.Errorf("%s.json: nothing shows %q any more", code, key)
			}
		}
		t.Logf("%s: %d texts", code, len(texts))
	}
}

// What is filled in keeps its place: a translation has the verbs of its key, each as often, in any order if numbered.
func TestCatalogues_keepTheHoles(t *testing.T) {
	for _, code := range []string{Spanish, German} {
		for key, text := range catalogueOf(t, code) {
			if text != "" && !slices.Equal(holes(key), holes(text)) {
				t.Errorf("%s: %q has %q, its translation %q has %q", code, key, holes(key), text, holes(text))
			}
			if strings.TrimSpace(text) == "" && text != "" || strings.HasPrefix(key, " ") != strings.HasPrefix(text, " ") && text != "" ||
				strings.HasSuffix(key, " ") != strings.HasSuffix(text, " ") && text != "" {
				t.Errorf("%s: the spaces round %q and %q differ", code, key, text)
			}
		}
	}
}

// A number in a caution must not change on the way into another language. Decimal signs may, and so may the gap between thousands.
func TestCatalogues_keepTheNumbers(t *testing.T) {
	for _, code := range []string{Spanish, German} {
		for key, text := range catalogueOf(t, code) {
			if a, b := numbers(key), numbers(text); text != "" && !slices.Equal(a, b) {
				t.Errorf("%s: %q has the numbers %q, its translation %q has %q", code, key, a, text, b)
			}
		}
	}
}

// A translation that is itself a key would be translated twice where a text is put into another one.
func TestCatalogues_sayNothingTwice(t *testing.T) {
	for _, code := range []string{Spanish, German} {
		texts := catalogueOf(t, code)
		for key, text := range texts {
			if again := texts[text]; again != "" && again != text && !strings.HasSuffix(key, " (short)") {
				t.Errorf("%s: %q becomes %q, which becomes %q", code, key, text, again)
			}
		}
	}
}

var (
	holeVerb = regexp.MustCompile(`%(?:\[(\d+)\])?[-+#0]*[0-9.]*([a-zA-Z%])`)
	number   = regexp.MustCompile(`\d+(?:[.,]\d+)?`)
)

// holes lists the verbs of a text in the order of their arguments.
func holes(text string) []string {
	list := []string{}
	next := 1
	for _, m := range holeVerb.FindAllStringSubmatch(text, -1) {
		if m[2] == "%" {
			continue
		}
		if m[1] != "" {
			_, _ = fmt.Sscan(m[1], &next)
		}
		list = append(list, fmt.Sprintf("%d%s", next, m[2]))
		next++
	}
	slices.Sort(list)
	return list
}

func numbers(text string) []string {
	text = holeVerb.ReplaceAllString(text, " ")
	text = strings.NewReplacer("\u00a0", "", "½", "0.5").Replace(text)
	list := number.FindAllString(strings.ReplaceAll(text, ",", "."), -1)
	slices.Sort(list)
	return list
}

func wanted(t *testing.T) map[string]bool {
	t.Helper()
	c := shown(t)
	want := c.keys
	maps.Copy(want, c.likely)
	for _, text := range listed(t, stays) {
		if !want[text] {
			t.Errorf("%s: nothing holds %q any more", stays, text)
		}
		delete(want, text)
	}
	for _, text := range listed(t, short) {
		if base := strings.TrimSuffix(text, " (short)"); !c.all[strings.ReplaceAll(base, " ", "_")] && !c.all[base] {
			t.Errorf("%s: nothing holds %q any more", short, text)
		}
		want[text] = true
	}
	return want
}

// listed reads a list of texts, one JSON string a line.
func listed(t *testing.T, name string) []string {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	for line := range strings.Lines(string(data)) {
		var text string
		if err := json.Unmarshal([]byte(line), &text); err != nil {
			t.Fatalf("%s: %q: %v", name, line, err)
		}
		list = append(list, text)
	}
	return list
}

func catalogueOf(t *testing.T, code string) map[string]string {
	t.Helper()
	data, err := os.ReadFile(folder + code + ".json")
	if err != nil {
		t.Fatal(err)
	}
	var texts map[string]string
	if err := json.Unmarshal(data, &texts); err != nil {
		t.Fatal(err)
	}
	return texts
}

func write(t *testing.T, code string, texts map[string]string, want map[string]bool) {
	t.Helper()
	next := map[string]string{}
	for key := range want {
		next[key] = texts[key]
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(next); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(folder+code+".json", b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}
