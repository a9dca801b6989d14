package main

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/andybalholm/brotli"
)

// mapRows is how many rows each list of the map has at most.
const mapRows = 40

// printMap builds the browser program once more, with names, and shows where its bytes are: by
// section, by what lies in memory, and by package and function. Bytes are plain. Beside each stands
// its length in brotli when it is packed alone at a middling quality: a measure to compare by, not
// a part of the file that is sent, because there all share one window.
func printMap(w io.Writer) error {
	file, err := buildSmall("./cmd/wasm", "")
	if err != nil {
		return err
	}
	m, err := readModule(file)
	if err != nil {
		return err
	}
	if len(m.names) == 0 {
		return errors.New("the wasm holds no names")
	}
	found, err := findMap(m.memory)
	if err != nil {
		return err
	}
	functions := m.functions()
	printParts(w, "section", m.parts())
	printParts(w, "memory at the start", found.parts())
	printParts(w, "code of package", byPackage(functions))
	printParts(w, "function", functions)
	return nil
}

func (m module) parts() []part {
	var parts []part
	for _, s := range m.sections {
		title := sectionNames[s.id]
		if s.id == sectionCustom {
			r := reader{b: s.body}
			title += " " + r.name()
		}
		parts = append(parts, part{title, s.body})
	}
	return parts
}

func (m module) functions() []part {
	var functions []part
	for i, body := range m.bodies {
		functions = append(functions, part{m.names[m.imported+i], body})
	}
	return functions
}

func byPackage(functions []part) []part {
	bodies := map[string][]byte{}
	for _, f := range functions {
		p := packageOf(f.name)
		bodies[p] = append(bodies[p], f.body...)
	}
	var packages []part
	for name, body := range bodies {
		packages = append(packages, part{name, body})
	}
	return packages
}

// part is a named run of bytes.
type part struct {
	name string
	body []byte
}

func printParts(w io.Writer, title string, parts []part) {
	slices.SortFunc(parts, func(a, b part) int {
		if len(a.body) != len(b.body) {
			return len(b.body) - len(a.body)
		}
		return strings.Compare(a.name, b.name)
	})
	total := 0
	for _, p := range parts {
		total += len(p.body)
	}
	fmt.Fprintf(w, "\n%9s %9s  %s\n", "bytes", "brotli", title)
	for i, p := range parts {
		if i == mapRows {
			fmt.Fprintf(w, "%20s and %d more\n", "", len(parts)-mapRows)
			break
		}
		fmt.Fprintf(w, "%9d %9d  %s\n", len(p.body), packedLength(p.body), p.name)
	}
	fmt.Fprintf(w, "%9d %9s  all\n", total, "")
}

// packedLength packs b alone, at a quality that takes seconds and not minutes for all of it.
func packedLength(b []byte) int {
	var n counter
	z := brotli.NewWriterOptions(&n, brotli.WriterOptions{Quality: 6, LGWin: 24})
	_, _ = z.Write(b) // a counter takes everything
	_ = z.Close()
	return int(n)
}

type counter int

func (c *counter) Write(b []byte) (int, error) {
	*c += counter(len(b))
	return len(b), nil
}

// packageOf takes the package off a symbol of the name section, where everything but letters,
// digits and dots is an underscore: what stands before the first dot, and for a module on a host
// with a dot the dot that follows its path.
func packageOf(symbol string) string {
	if strings.HasPrefix(symbol, "type_") {
		return "comparing and hashing of types"
	}
	host, rest, isHost := strings.Cut(symbol, ".com_")
	name, _, found := strings.Cut(symbol, ".")
	if isHost && !strings.Contains(host, ".") {
		path, _, _ := strings.Cut(rest, ".")
		return host + ".com_" + path
	}
	if !found {
		return "assembly of the runtime"
	}
	return name
}
