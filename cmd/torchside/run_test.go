package main

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"os/exec"
	"os/signal"
	"syscall"
	"testing"
	"testing/fstest"

	"bytes"
	"compress/gzip"

	"github.com/rogpeppe/go-internal/testscript"

	"torchside/web"
)

// TestMain lets the scripts run this very program: once with the app inside and once without,
// whatever has been built in this folder.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"torchside-built":   func() { os.Exit(runWith(builtFiles())) },
		"torchside-unbuilt": func() { os.Exit(runWith(unbuiltFiles())) },
	})
}

func runWith(files fs.FS) int {
	ctx, stop := signal.NotifyContext(context.Background(), syscall.SIGTERM)
	defer stop()
	p := program{env: os.LookupEnv, stdin: os.Stdin, stdout: os.Stdout, stderr: os.Stderr, files: files, open: openVault}
	return p.run(ctx, os.Args[1:])
}

const wasmText = "stands for the wasm"

// builtFiles are the real hand-written files with a stand-in for the built program.
func builtFiles() fstest.MapFS {
	files := unbuiltFiles()
	files["dist/version"] = &fstest.MapFile{Data: []byte("v-test\n")}
	files["dist/app.wasm.br"] = &fstest.MapFile{Data: []byte("stands for brotli")}
	files["dist/app.wasm.gz"] = &fstest.MapFile{Data: zipped(wasmText)}
	return files
}

func unbuiltFiles() fstest.MapFS {
	files := fstest.MapFS{"dist/README": {Data: []byte("nothing built")}}
	err := fs.WalkDir(web.Embedded(), "static", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		body, err := fs.ReadFile(web.Embedded(), name)
		files[name] = &fstest.MapFile{Data: body}
		return err
	})
	if err != nil {
		panic(err) // the files are compiled in
	}
	return files
}

func zipped(text string) []byte {
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	_, _ = w.Write([]byte(text)) // a bytes.Buffer takes everything
	_ = w.Close()
	return b.Bytes()
}

func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exit2": exit2,
		},
	})
}

// exit2 runs a program that must end with exit code 2: the command line was not understood.
func exit2(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) == 0 {
		ts.Fatalf("usage: exit2 PROGRAM [ARGUMENT...]")
	}
	err := ts.Exec(args[0], args[1:]...)
	var exit *exec.ExitError
	if !errors.As(err, &exit) || exit.ExitCode() != exitUsage {
		ts.Fatalf("%v: want exit code %d", err, exitUsage)
	}
}
