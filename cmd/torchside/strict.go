package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"slices"
	"strings"
)

// questionError is a question that cannot be answered: where it stands, which field, what was read and what is allowed.
type questionError struct {
	line    int
	field   string // with dots and indices; empty when the whole question is meant
	problem string // what was read, what is allowed, why
}

// Error gives line, field and problem as one readable line.
func (e *questionError) Error() string {
	if e.field == "" {
		return fmt.Sprintf("line %d: %s", e.line, e.problem)
	}
	return fmt.Sprintf("line %d: %s: %s", e.line, e.field, e.problem)
}

// questions reads JSON objects, one or many, on one or many lines each, and hands each to answer with the line it begins on.
// It stops at the first error. No object at all is an error too: a silent success would look like an answer.
func questions(in io.Reader, answer func(line int, raw json.RawMessage) error) error {
	text, err := io.ReadAll(in)
	if err != nil {
		return fmt.Errorf("reading questions: %w", err)
	}
	decoder := json.NewDecoder(bytes.NewReader(text))
	for n := 0; ; n++ {
		line := lineAt(text, skipSpace(text, int(decoder.InputOffset())))
		var raw json.RawMessage
		switch err := decoder.Decode(&raw); {
		case err == io.EOF && n > 0:
			return nil
		case err == io.EOF:
			return &questionError{1, "", "read nothing; allowed is one JSON object or more"}
		case err != nil:
			return &questionError{brokenLine(text, err), "", "this is no JSON: " + err.Error()}
		}
		if raw[0] != '{' {
			return &questionError{line, "", "read " + brief(raw) + "; allowed is a JSON object"}
		}
		if err := answer(line, raw); err != nil {
			return err
		}
	}
}

// brokenLine is the line at which JSON stops being JSON; text that ends too early breaks at its end.
func brokenLine(text []byte, err error) int {
	var syntax *json.SyntaxError
	if errors.As(err, &syntax) {
		return lineAt(text, int(syntax.Offset))
	}
	return lineAt(text, len(text))
}

func skipSpace(text []byte, at int) int {
	for at < len(text) && strings.IndexByte(" \t\r\n", text[at]) >= 0 {
		at++
	}
	return at
}

func lineAt(text []byte, at int) int { return 1 + bytes.Count(text[:min(at, len(text))], []byte("\n")) }

// brief cuts a piece of JSON to a length that fits a message.
func brief(raw []byte) string {
	const most = 60
	s := strings.Join(strings.Fields(string(raw)), " ")
	if letters := []rune(s); len(letters) > most {
		return string(letters[:most]) + "…"
	}
	return s
}

// decode fills into (a pointer to a struct) from an object, strictly: unknown, doubled and missing fields are refused. A field
// is needed unless its json tag says omitempty; null stands for a missing one.
func decode(line int, raw json.RawMessage, into any) error {
	if err := inspect(line, "", raw, reflect.TypeOf(into).Elem()); err != nil {
		return err
	}
	if err := json.Unmarshal(raw, into); err != nil {
		return &questionError{line, "", err.Error()}
	}
	return nil
}

// inspect walks a value beside its type.
func inspect(line int, path string, raw json.RawMessage, t reflect.Type) error {
	switch t.Kind() {
	case reflect.Pointer:
		return inspect(line, path, raw, t.Elem())
	case reflect.Struct:
		return inspectStruct(line, path, raw, t)
	case reflect.Slice:
		return inspectSlice(line, path, raw, t)
	case reflect.Map:
		return inspectMap(line, path, raw, t)
	}
	if err := json.Unmarshal(raw, reflect.New(t).Interface()); err != nil {
		return &questionError{line, path, "read " + brief(raw) + "; allowed is " + kindWord(t)}
	}
	return nil
}

func kindWord(t reflect.Type) string {
	switch t.Kind() {
	case reflect.String:
		return "a text in quotes"
	case reflect.Bool:
		return "true or false"
	case reflect.Int:
		return "a whole number"
	case reflect.Struct:
		return "an object { … }"
	}
	return "a number"
}

// member is one field of an object.
type member struct {
	name string
	raw  json.RawMessage
}

// members splits an object in order and refuses a doubled name, of which JSON would silently keep the last.
func members(line int, path string, raw json.RawMessage) ([]member, error) {
	decoder := json.NewDecoder(bytes.NewReader(raw))
	if open, err := decoder.Token(); err != nil || open != json.Delim('{') {
		return nil, &questionError{line, path, "read " + brief(raw) + "; allowed is an object { … }"}
	}
	var list []member
	for decoder.More() {
		key, err := decoder.Token()
		if err != nil {
			return nil, &questionError{line, path, err.Error()}
		}
		m := member{name: key.(string)} // inside an object every key token is a string
		if err := decoder.Decode(&m.raw); err != nil {
			return nil, &questionError{line, join(path, m.name), err.Error()}
		}
		if slices.ContainsFunc(list, func(o member) bool { return o.name == m.name }) {
			return nil, &questionError{line, join(path, m.name), "given twice; allowed is once"}
		}
		list = append(list, m)
	}
	return list, nil
}

func inspectStruct(line int, path string, raw json.RawMessage, t reflect.Type) error {
	list, err := members(line, path, raw)
	if err != nil {
		return err
	}
	needed, types := fieldsOf(t)
	for _, m := range list {
		ft, ok := types[m.name]
		if !ok {
			return &questionError{line, join(path, m.name), "unknown field; allowed are " + fieldNames(t)}
		}
		if string(m.raw) == "null" {
			continue
		}
		needed = slices.DeleteFunc(needed, func(n string) bool { return n == m.name })
		if err := inspect(line, join(path, m.name), m.raw, ft); err != nil {
			return err
		}
	}
	if len(needed) > 0 {
		return &questionError{line, join(path, needed[0]), "missing; it is needed"}
	}
	return nil
}

func inspectSlice(line int, path string, raw json.RawMessage, t reflect.Type) error {
	var list []json.RawMessage
	if err := json.Unmarshal(raw, &list); err != nil {
		return &questionError{line, path, "read " + brief(raw) + "; allowed is a list [ … ]"}
	}
	for i, item := range list {
		if string(item) == "null" {
			return &questionError{line, fmt.Sprintf("%s[%d]", path, i), "read null; allowed is " + kindWord(t.Elem())}
		}
		if err := inspect(line, fmt.Sprintf("%s[%d]", path, i), item, t.Elem()); err != nil {
			return err
		}
	}
	return nil
}

func inspectMap(line int, path string, raw json.RawMessage, t reflect.Type) error {
	list, err := members(line, path, raw)
	if err != nil {
		return err
	}
	for _, m := range list {
		if string(m.raw) == "null" {
			return &questionError{line, join(path, m.name), "read null; allowed is " + kindWord(t.Elem())}
		}
		if err := inspect(line, join(path, m.name), m.raw, t.Elem()); err != nil {
			return err
		}
	}
	return nil
}

// fieldsOf lists the needed names of a struct and the type of every name.
func fieldsOf(t reflect.Type) (needed []string, types map[string]reflect.Type) {
	types = map[string]reflect.Type{}
	for i := range t.NumField() {
		name, options, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
		types[name] = t.Field(i).Type
		if options != "omitempty" {
			needed = append(needed, name)
		}
	}
	return needed, types
}

func fieldNames(t reflect.Type) string {
	var names []string
	for i := range t.NumField() {
		name, _, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
		names = append(names, name)
	}
	return strings.Join(names, ", ")
}

func join(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}
