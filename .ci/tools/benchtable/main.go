// Command benchtable reads what make bench wrote into a folder and prints one table of it: what, figure, floor, ratio, bar, met or not.
// The same goes as JSON into table.json there.
//
//	go run -C .ci/tools ./benchtable ../../bench
//
// The bars are the project's own; a floor is the least that any program of this kind can be, measured in the same run. What was not
// measured is named as such and met by nothing.
package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"text/tabwriter"
)

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: benchtable FOLDER")
		os.Exit(2)
	}
	if err := run(os.Args[1]); err != nil {
		fmt.Fprintln(os.Stderr, "benchtable:", err)
		os.Exit(1)
	}
}

func run(folder string) error {
	files, err := filepath.Glob(filepath.Join(folder, "*.txt"))
	if err != nil {
		return err
	}
	found := figures{}
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		found.read(string(text))
	}
	var lines []line
	for _, r := range rows {
		lines = append(lines, r.line(found))
	}
	out, err := json.MarshalIndent(lines, "", "  ")
	if err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(folder, "table.json"), append(out, '\n'), 0o644); err != nil {
		return err
	}
	return printTable(lines)
}

func printTable(lines []line) error {
	w := tabwriter.NewWriter(os.Stdout, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "what\tfigure\tfloor\tratio\tbar\tmet")
	for _, l := range lines {
		fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%s\t%s\n", l.What, l.text(l.Figure), l.text(l.Floor), ratioText(l.Ratio), l.Bar, l.Met)
	}
	return w.Flush()
}
