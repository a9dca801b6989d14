// Command dist makes what is handed out: one program for each kind of machine, with checksums, a list of all that is inside (SPDX 2.3)
// and the licences of all that is inside.
//
//	go run ./deploy/dist                       all platforms, into bin/dist
//	go run ./deploy/dist -only linux/amd64     one of them
//
// Run it from the module's root, after "make wasm". The same sources, toolchain and version give the same bytes, in whatever folder
// they lie. The program for this very machine is started once, alone in an empty folder with an empty environment; what does not serve
// the app then is not handed out.
package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
)

func main() {
	var o order
	flag.StringVar(&o.dir, "out", "bin/dist", "`FOLDER` for the files; emptied first")
	flag.StringVar(&o.version, "version", "", "`NAME` of this version (default: what git describes, else the hash of the sources)")
	only := flag.String("only", "", "`PLATFORMS` to build for, as linux/amd64, comma between (default: all)")
	flag.Parse()
	if err := run(o, *only); err != nil {
		fmt.Fprintln(os.Stderr, "dist:", err)
		os.Exit(1)
	}
}

// order is what is to be made.
type order struct {
	source  string // the folder of the module; empty for where this runs
	dir     string
	version string
	build   string // hash of the sources of the app inside
	targets []target
}

func run(o order, only string) error {
	build, err := os.ReadFile("web/dist/version")
	if err != nil {
		return fmt.Errorf("the app is not built yet, run \"make wasm\" first: %w", err)
	}
	o.build = strings.TrimSpace(string(build))
	if o.version == "" {
		o.version = gitVersion(o.build)
	}
	if o.targets, err = chosenTargets(only); err != nil {
		return err
	}
	if err := os.RemoveAll(o.dir); err != nil {
		return err
	}
	if err := os.MkdirAll(o.dir, 0o755); err != nil {
		return err
	}
	programs, err := o.programs()
	if err != nil {
		return err
	}
	for _, p := range programs {
		if p.target.os == runtime.GOOS && p.target.arch == runtime.GOARCH {
			if err := runsAlone(filepath.Join(o.dir, p.name)); err != nil {
				return fmt.Errorf("%s, alone in an empty folder: %w", p.name, err)
			}
			fmt.Println(p.name, "serves the app, alone in an empty folder")
		}
	}
	return o.papers(programs)
}

// papers writes what goes with the programs.
func (o order) papers(programs []program) error {
	parts, err := allParts(o.dir, programs)
	if err != nil {
		return err
	}
	licences, err := licenceText(parts)
	if err != nil {
		return err
	}
	list, err := spdx(o, parts, programs)
	if err != nil {
		return err
	}
	papers := map[string][]byte{"LICENSES.txt": licences, "torchside.spdx.json": list}
	for name, body := range papers {
		if err := os.WriteFile(filepath.Join(o.dir, name), body, 0o644); err != nil {
			return err
		}
	}
	return writeSums(o.dir)
}
