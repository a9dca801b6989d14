package server_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"torchside/storage/wire"
)

// example is one request of the protocol's page with the answer it promises.
type example struct {
	line    string // of the page
	request string
	answer  string
}

var fenced = regexp.MustCompile("(?s)```http\n(.*?)```")

// examples reads the page: requests and answers take turns.
func examples(t *testing.T) []example {
	t.Helper()
	page, err := os.ReadFile("../wire/README.md")
	if err != nil {
		t.Fatal(err)
	}
	blocks := fenced.FindAllSubmatchIndex(page, -1)
	if len(blocks) < 20 || len(blocks)%2 != 0 {
		t.Fatalf("%d blocks: requests and answers do not pair up", len(blocks))
	}
	var all []example
	for i := 0; i < len(blocks); i += 2 {
		line := bytes.Count(page[:blocks[i][0]], []byte("\n")) + 1
		all = append(all, example{
			fmt.Sprintf("README.md:%d", line), string(page[blocks[i][2]:blocks[i][3]]), string(page[blocks[i+1][2]:blocks[i+1][3]]),
		})
	}
	return all
}

// known are the values of the page's $NAMEs, as they come up.
type known map[string]string

var variable = regexp.MustCompile(`\$[A-Z]+`)

func (k known) fill(t *testing.T, text string) string {
	return variable.ReplaceAllStringFunc(text, func(name string) string {
		value, ok := k[name]
		if !ok {
			t.Fatalf("%s is used before an answer gave it", name)
		}
		return value
	})
}

// same compares an answer with the page, and learns what the page gives a name.
func (k known) same(want, got any) error {
	if name, ok := want.(string); ok && variable.MatchString(name) {
		text := fmt.Sprint(got)
		if number, ok := got.(float64); ok {
			text = strconv.FormatFloat(number, 'f', -1, 64)
		}
		if before, ok := k[name]; ok && before != text || text == "" || got == nil {
			return fmt.Errorf("%s is %q, was %q", name, text, before)
		}
		k[name] = text
		return nil
	}
	switch want := want.(type) {
	case map[string]any:
		fields, ok := got.(map[string]any)
		if !ok || len(fields) != len(want) {
			return fmt.Errorf("%v, want the fields of %v", got, want)
		}
		for name, value := range want {
			if err := k.same(value, fields[name]); err != nil {
				return fmt.Errorf("%s: %w", name, err)
			}
		}
		return nil
	case []any:
		list, ok := got.([]any)
		if !ok || len(list) != len(want) {
			return fmt.Errorf("%v, want %v", got, want)
		}
		for i := range want {
			if err := k.same(want[i], list[i]); err != nil {
				return fmt.Errorf("%d: %w", i, err)
			}
		}
		return nil
	}
	if want != got {
		return fmt.Errorf("%v, want %v", got, want)
	}
	return nil
}

// parse takes a request of the page apart.
func parse(t *testing.T, text string) asked {
	t.Helper()
	head, body, hasBody := strings.Cut(text, "\n\n")
	lines := strings.Split(strings.TrimSpace(head), "\n")
	method, path, ok := strings.Cut(lines[0], " "+wire.Prefix)
	if !ok {
		t.Fatalf("no request: %s", lines[0])
	}
	q := asked{method: method, path: path, header: map[string]string{}}
	for _, line := range lines[1:] {
		name, value, _ := strings.Cut(line, ": ")
		q.header[name] = value
	}
	if hasBody {
		q.body = []byte(strings.TrimSuffix(body, "\n"))
	}
	return q
}

// The page that documents the protocol is what the server does.
func TestProtocol_every_example_of_the_page_is_answered_as_written(t *testing.T) {
	w := newWorld(t)
	code := w.code(w.shop("My shop"))
	k := known{"$CODE": code}
	seen := map[string]bool{}
	for _, e := range examples(t) {
		q := parse(t, k.fill(t, e.request))
		resp, _, body := w.ask(q)
		status, text, _ := strings.Cut(e.answer, "\n")
		if strconv.Itoa(resp.StatusCode) != status {
			t.Fatalf("%s: status %d, want %s: %s", e.line, resp.StatusCode, status, body)
		}
		var want, got any
		if err := json.Unmarshal([]byte(text), &want); err != nil {
			t.Fatalf("%s: the page's answer is no JSON: %v", e.line, err)
		}
		if err := json.Unmarshal(body, &got); err != nil {
			t.Fatalf("%s: %v: %s", e.line, err, body)
		}
		if err := k.same(want, got); err != nil {
			t.Errorf("%s: %v\n%s", e.line, err, body)
		}
		first, _, _ := strings.Cut(strings.TrimPrefix(q.path, "/"), "/")
		first, _, _ = strings.Cut(first, "?")
		seen[q.method+" /"+first] = true
	}
	for _, r := range w.srv.Routes() {
		first, _, _ := strings.Cut(strings.TrimPrefix(r.Path, "/"), "/")
		if !seen[r.Method+" /"+first] {
			t.Errorf("the page has no example of %s %s", r.Method, r.Path)
		}
	}
}
