package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"runtime"
	"strings"

	"torchside/pwa"
	"torchside/storage/vault"
	"torchside/web"
)

// Exit codes: 1 when the work failed, 2 when the command line was not understood.
const (
	exitOK     = 0
	exitFailed = 1
	exitUsage  = 2
)

// program is one run of torchside with its surroundings, so that tests can supply their own.
type program struct {
	env            func(string) (string, bool)
	stdin          io.Reader
	stdout, stderr io.Writer
	files          fs.FS // what web.Open reads
	open           func(folder string) (vault.Vault, error)
}

// command is one word after "torchside".
type command struct {
	name, args, summary string
	run                 func(p program, ctx context.Context, args []string) error
}

// commands returns all commands in the order of the usage text.
func commands() []command {
	return []command{
		{"serve", "[flags]", "serve the app (this is also what no command does)", program.serve},
		{"pair", "[--shop NAME]", "make a code for a new device", program.pair},
		{"devices", "[rename|revoke ...]", "list, rename or put out devices", program.devices},
		{"shop", "[add|rename ...]", "list, add or rename shops", program.shop},
		{"history", "[trim|--keep 365d]", "show or set how long old versions are kept, or drop them", program.history},
		{"audit", "[--shop NAME]", "show who did what", program.audit},
		{"check", "[--repair]", "look for damage in the vault", program.check},
		{"compact", "", "write the vault anew without the room it does not use", program.compact},
		{"backup", "FILE", "write the whole vault into one file", program.backup},
		{"restore", "FILE [--force]", "put a backup in the place of the vault", program.restore},
		{"export-site", "DIR [flags]", "write the app as files for a static host", program.exportSite},
		{"compute", "TOPIC < in.json", "answer JSON questions, one answer a line", program.compute},
		{"version", "", "print the version of this program", program.version},
	}
}

// usageError is a command line that was not understood.
type usageError struct{ text string }

// Error says what was not understood.
func (e usageError) Error() string { return e.text }

// run does one command line and returns the exit code.
func (p program) run(ctx context.Context, args []string) int {
	err := p.dispatch(ctx, args)
	var usage usageError
	switch {
	case err == nil:
		return exitOK
	case errors.As(err, &usage):
		fmt.Fprintf(p.stderr, "torchside: %s\n\n%s", usage.text, usageText())
		return exitUsage
	}
	fmt.Fprintf(p.stderr, "torchside: %v\n", err)
	return exitFailed
}

func (p program) dispatch(ctx context.Context, args []string) error {
	name, rest := "serve", args
	if len(args) > 0 && (!strings.HasPrefix(args[0], "-") || isHelp(args[0])) {
		name, rest = args[0], args[1:]
	}
	if isHelp(name) {
		_, err := io.WriteString(p.stdout, usageText())
		return err
	}
	for _, c := range commands() {
		if c.name == name {
			return c.run(p, ctx, rest)
		}
	}
	return usageError{fmt.Sprintf("there is no command %q", name)}
}

func isHelp(arg string) bool {
	return arg == "help" || arg == "-h" || arg == "-help" || arg == "--help"
}

func usageText() string {
	var b strings.Builder
	b.WriteString("usage: torchside [COMMAND]\n\n")
	for _, c := range commands() {
		fmt.Fprintf(&b, "  %-26s %s\n", strings.TrimSpace(c.name+" "+c.args), c.summary)
	}
	b.WriteString("\n\"torchside serve --help\" lists the flags.\n")
	return b.String()
}

// release is the name git has for the sources, set by the linker; empty in a plain "go build" and where there is no git.
var release string

// version prints the name of the release, the hash of the app's sources, and the toolchain.
func (p program) version(_ context.Context, args []string) error {
	if len(args) > 0 {
		return usageError{"version takes no arguments"}
	}
	name := p.buildVersion()
	if release != "" {
		name = release + ", build " + name
	}
	_, err := fmt.Fprintf(p.stdout, "torchside %s, %s\n", name, runtime.Version())
	return err
}

// buildVersion is what the linker set, else what the embedded build says, else "unbuilt".
func (p program) buildVersion() string {
	if pwa.Version != "" {
		return pwa.Version
	}
	if site, err := web.Open(p.files); err == nil {
		return site.Version
	}
	return "unbuilt"
}
