package main

import (
	"cmp"
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// sortProgram sorts what comes in by the two ways with a function, and answers with the results; the
// way without one it checks itself.
const sortProgram = `package main

import (
	"cmp"
	"encoding/json"
	"os"
	"slices"
)

type pair struct{ Key, Place int }

func byKey(a, b pair) int { return cmp.Compare(a.Key, b.Key) }

func main() {
	var lists [][]pair
	if err := json.NewDecoder(os.Stdin).Decode(&lists); err != nil {
		panic(err)
	}
	for i, l := range lists {
		keys := []int{}
		for _, p := range l {
			keys = append(keys, p.Key)
		}
		slices.Sort(keys)
		if i%2 == 0 {
			slices.SortFunc(l, byKey)
		} else {
			slices.SortStableFunc(l, byKey)
		}
		for j, p := range l {
			if keys[j] != p.Key {
				panic("Sort and SortFunc differ")
			}
		}
	}
	if err := json.NewEncoder(os.Stdout).Encode(lists); err != nil {
		panic(err)
	}
}
`

type pair struct{ Key, Place int }

// A program built with the overlay sorts as the standard library's stable sort does.
func TestOverlay_sorts_like_the_standard_library(t *testing.T) {
	dir := t.TempDir()
	changed, err := overlay(dir)
	if err != nil {
		t.Fatal(err)
	}
	source := filepath.Join(dir, "main.go")
	if err := os.WriteFile(source, []byte(sortProgram), 0o644); err != nil {
		t.Fatal(err)
	}
	given := randomLists()
	in, err := json.Marshal(given)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("go", "run", "-overlay="+changed, source)
	cmd.Stdin, cmd.Stderr = strings.NewReader(string(in)), os.Stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var got [][]pair
	if err := json.Unmarshal(out, &got); err != nil || len(got) != len(given) {
		t.Fatalf("%d lists of %d came back: %v", len(got), len(given), err)
	}
	for i, want := range given {
		slices.SortStableFunc(want, func(a, b pair) int { return cmp.Compare(a.Key, b.Key) })
		if !slices.Equal(got[i], want) {
			t.Errorf("sorted %v, want %v", got[i], want)
		}
	}
}

// randomLists are lists of every small length, with few and with many equal keys.
func randomLists() [][]pair {
	r := rand.New(rand.NewPCG(1, 2))
	var lists [][]pair
	for length := range 70 {
		for _, keys := range []int{1, 3, math.MaxInt32} {
			list := make([]pair, length)
			for i := range list {
				list[i] = pair{r.IntN(keys), i}
			}
			lists = append(lists, list)
		}
	}
	return lists
}

func TestChangedStd_another_standard_library_stops_the_build(t *testing.T) {
	root := t.TempDir()
	for _, e := range stdEdits {
		path := filepath.Join(root, filepath.FromSlash(e.file))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte("package other\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := changedStd(root); err == nil || !strings.Contains(err.Error(), "has changed") {
		t.Errorf("got the error %v", err)
	}
}
