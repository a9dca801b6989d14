// Command torchside serves the app to the browsers of one shop and keeps the shop's vault. It
// also computes every topic from a script.
//
// Run "torchside help" for the commands. Nothing is decided here: commands are in run.go.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"

	"torchside/web"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	p := program{
		env:    os.LookupEnv,
		stdin:  os.Stdin,
		stdout: os.Stdout,
		stderr: os.Stderr,
		files:  web.Embedded(),
		open:   openVault,
	}
	os.Exit(p.run(ctx, os.Args[1:]))
}
