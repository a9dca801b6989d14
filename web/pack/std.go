package main

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// The compiler writes a generic function anew for every type it is used with, and the standard
// library's sorting is a dozen long functions. The browser program takes one short merge sort in
// their place, through the go command's overlay: as stable and as quick, for a little memory. It
// also goes without what SHA-256 brings along, and without the runtime's recorder and measures. Another text in the standard library than expected
// stops the build.

// Files of the standard library, under GOROOT.
const (
	sortFile   = "src/slices/sort.go"
	sha256File = "src/crypto/sha256/sha256.go"
	traceFile  = "src/runtime/traceruntime.go"
	metricFile = "src/runtime/metrics.go"
)

var stdEdits = []edit{
	// Another library that computes SHA-256 on some systems, never in a browser; the import alone
	// brings ciphers and their tests of themselves at every start.
	{sha256File, "\t\"crypto/internal/boring\"\n", ""},
	{sha256File, "\tif boring.Enabled {\n\t\treturn boring.NewSHA256()\n\t}\n", ""},
	{sha256File, "\tif boring.Enabled {\n\t\treturn boring.NewSHA224()\n\t}\n", ""},
	{sha256File, "\tif boring.Enabled {\n\t\treturn boring.SHA256(data)\n\t}\n", ""},
	{sha256File, "\tif boring.Enabled {\n\t\treturn boring.SHA224(data)\n\t}\n", ""},
	// The runtime's recorder of events, which nobody in a browser switches on: known to be off, the compiler leaves it out.
	{traceFile, "\treturn trace.enabled\n", "\treturn false\n"},
	{traceFile, "\treturn trace.enabledWithAllocFree\n", "\treturn false\n"},
	{traceFile, "\treturn trace.shutdown.Load()\n", "\treturn false\n"},
	{traceFile, "\treturn tl.gen != 0\n", "\treturn false\n"},
	// Its measures, which only settings of the library's own would add to and nobody reads here.
	{metricFile, "\tmetricsLock()\n\tinitMetrics()\n\td, ok := metrics[name]\n", "\treturn\n\tmetricsLock()\n\tinitMetrics()\n\td, ok := metrics[name]\n"},
	// Sorting.
	{sortFile, "\tn := len(x)\n\tpdqsortOrdered(x, 0, n, bits.Len(uint(n)))\n", "\tmergeSort(x, make([]E, len(x)/2), cmp.Compare[E])\n"},
	{sortFile, "\tn := len(x)\n\tpdqsortCmpFunc(x, 0, n, bits.Len(uint(n)), cmp)\n", "\tmergeSort(x, make([]E, len(x)/2), cmp)\n"},
	{sortFile, "\tstableCmpFunc(x, len(x), cmp)\n", "\tmergeSort(x, make([]E, len(x)/2), cmp)\n"},
	{sortFile, "// IsSorted reports whether x is sorted in ascending order.\n", mergeSort + "// IsSorted reports whether x is sorted in ascending order.\n"},
}

// mergeSort sorts stably; what is in order already costs one comparison each. A comparison that
// contradicts itself gives some order, and ends.
const mergeSort = `func mergeSort[E any](x, spare []E, cmp func(a, b E) int) {
	middle := len(x) / 2
	if middle == 0 {
		return
	}
	mergeSort(x[:middle], spare, cmp)
	mergeSort(x[middle:], spare, cmp)
	if cmp(x[middle-1], x[middle]) <= 0 {
		return
	}
	left, right := spare[:copy(spare, x[:middle])], x[middle:]
	for len(left) > 0 {
		next := &left
		if len(right) > 0 && cmp(right[0], left[0]) < 0 {
			next = &right
		}
		x[0] = (*next)[0]
		x, *next = x[1:], (*next)[1:]
	}
}

`

// overlay writes the changed sources into dir, and the file that tells the go command of them.
func overlay(dir string) (string, error) {
	out, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return "", fmt.Errorf("finding the standard library: %w", err)
	}
	root := strings.TrimSpace(string(out))
	files, err := changedStd(root)
	if err != nil {
		return "", err
	}
	copied, err := filepath.Abs(filepath.Join(dir, "std"))
	if err != nil {
		return "", err
	}
	if err := writeCopy(copied, files); err != nil {
		return "", err
	}
	replace := map[string]string{}
	for name := range files {
		replace[filepath.Join(root, filepath.FromSlash(name))] = filepath.Join(copied, filepath.FromSlash(name))
	}
	list, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		return "", err
	}
	path := filepath.Join(dir, "overlay.json")
	return path, os.WriteFile(path, list, 0o644)
}

// changedStd are the files of the standard library at root that the browser program has otherwise.
func changedStd(root string) (map[string][]byte, error) {
	files := map[string][]byte{}
	for _, e := range stdEdits {
		if files[e.file] == nil {
			body, err := os.ReadFile(filepath.Join(root, filepath.FromSlash(e.file)))
			if err != nil {
				return nil, err
			}
			files[e.file] = body
		}
		if err := e.make(files); err != nil {
			return nil, fmt.Errorf("the standard library has changed: %w", err)
		}
	}
	return files, nil
}
