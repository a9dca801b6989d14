package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// licenceFiles are what modules call the file with their terms, and what grants or notices stand beside it.
var licenceFiles = []string{"LICENSE", "LICENSE.txt", "LICENSE.md", "COPYING", "NOTICE", "PATENTS"}

// licenceText joins the terms of Torchside and of every part, as they stand in the sources.
func licenceText(parts []part) ([]byte, error) {
	var text bytes.Buffer
	text.WriteString("Torchside, and below what is inside it by others. Of go-app the program in the browser holds the browser's half only.\n")
	for _, p := range append([]part{{path: "torchside", dir: "."}}, parts...) {
		files := 0
		for _, name := range licenceFiles {
			body, err := os.ReadFile(filepath.Join(p.dir, name))
			if err != nil {
				continue // most have one of the files
			}
			files++
			rule := strings.Repeat("=", 80)
			fmt.Fprintf(&text, "\n%s\n%s %s: %s\n%s\n\n%s\n", rule, p.title(), p.version, name, rule, bytes.TrimSpace(body))
		}
		if files == 0 {
			return nil, fmt.Errorf("%s %s has no file with its licence", p.path, p.version)
		}
	}
	return text.Bytes(), nil
}

func (p part) title() string {
	if p.path == goPart {
		return "Go, its runtime and standard library"
	}
	return p.path
}

// marks tell licences apart by sentences that only they have; each in full, blanks apart. The identifiers are of the SPDX License List.
var marks = []struct {
	id        string
	sentences []string
}{
	{"Apache-2.0", []string{"Apache License Version 2.0, January 2004"}},
	{"BSD-3-Clause", []string{"Redistribution and use in source and binary forms, with or without modification, are permitted",
		"may be used to endorse or promote products derived from this software without specific prior written permission"}},
	{"MIT", []string{"Permission is hereby granted, free of charge, to any person obtaining a copy of this software",
		"The above copyright notice and this permission notice shall be included in all copies"}},
}

// licenceID names the licence of a part. One it does not know is an error: a person must read it first.
func licenceID(p part) (string, error) {
	for _, name := range licenceFiles {
		body, err := os.ReadFile(filepath.Join(p.dir, name))
		if err != nil {
			continue
		}
		if id := licenceOf(string(body)); id != "" {
			return id, nil
		}
	}
	return "", fmt.Errorf("the licence of %s %s is none of those known to be fit: read it, then add its marks", p.path, p.version)
}

func licenceOf(text string) string {
	text = strings.Join(strings.Fields(text), " ")
	for _, m := range marks {
		all := true
		for _, s := range m.sentences {
			all = all && strings.Contains(text, s)
		}
		if all {
			return m.id
		}
	}
	return ""
}
