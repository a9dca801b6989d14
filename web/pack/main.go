// Command pack builds the browser program and makes web/dist from it: the wasm compressed once,
// as brotli at the highest quality and as gzip, and the version and sizes beside it.
//
//	go run ./web/pack dist          builds ./cmd/wasm into web/dist, unless nothing has changed
//	go run ./web/pack version       prints the version of the sources as they are
//	go run ./web/pack size PACKAGE  builds another wasm package as it is and prints its sizes in bytes
//	go run ./web/pack small PACKAGE the same, made smaller by all that makes the browser program smaller
//	go run ./web/pack brotli PACKAGE FILE  builds it as it is and writes it packed
//	go run ./web/pack map           prints where the bytes of the browser program are
//
// Run it from the module's root. Brotli takes a minute, so results are kept by content in
// .cache/pack and used again.
package main

import (
	"fmt"
	"os"
)

const usage = "usage: pack dist | pack version | pack size PACKAGE | pack small PACKAGE | pack brotli PACKAGE FILE | pack map"

func main() {
	if err := run(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "pack:", err)
		os.Exit(1)
	}
}

func run(args []string) error {
	switch {
	case len(args) == 1 && args[0] == "dist":
		return makeDist("web/dist")
	case len(args) == 1 && args[0] == "version":
		return printVersion()
	case len(args) == 2 && args[0] == "size":
		return printSize(buildWasm(args[1], "-ldflags=-s -w"))
	case len(args) == 2 && args[0] == "small":
		return printSize(buildSmall(args[1], "-s -w"))
	case len(args) == 3 && args[0] == "brotli":
		return writeBrotli(args[1], args[2])
	case len(args) == 1 && args[0] == "map":
		return printMap(os.Stdout)
	}
	return fmt.Errorf("%s", usage)
}

func printVersion() error {
	version, err := sourceVersion(".")
	if err != nil {
		return err
	}
	fmt.Println(version)
	return nil
}

// writeBrotli compiles a package as go build makes it and writes it, packed, to a file.
func writeBrotli(pkg, file string) error {
	wasm, err := buildWasm(pkg, "-ldflags=-s -w")
	if err != nil {
		return err
	}
	packed, err := compress(wasm)
	if err != nil {
		return err
	}
	return os.WriteFile(file, packed.brotli, 0o644)
}

func printSize(wasm []byte, err error) error {
	if err != nil {
		return err
	}
	packed, err := compress(wasm)
	if err != nil {
		return err
	}
	fmt.Println(packed.sizes())
	return nil
}
