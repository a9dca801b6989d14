package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"

	"torchside/pwa"
	"torchside/storage/server"
	"torchside/web"
)

// exportOptions are what export-site was asked for.
type exportOptions struct {
	dir, base, vault string
}

func (o *exportOptions) flags(out io.Writer) *flag.FlagSet {
	f := flag.NewFlagSet("torchside export-site", flag.ContinueOnError)
	f.SetOutput(out)
	f.StringVar(&o.base, "base", "", "`FOLDER` of the host the files will lie in, as /shop/torchside (default: its root)")
	f.StringVar(&o.vault, "vault", "", "`ORIGIN` of the server with the shop's vault, as https://shop.example.org:8443; it must name the host with serve --allow-origin (default: none, phones are not kept in step)")
	f.Usage = func() {
		fmt.Fprint(out, "usage: torchside export-site DIR [flags]\n\nWrites the whole app as files into DIR, which must be empty or not there yet.\n\n")
		f.PrintDefaults()
	}
	return f
}

// plainFolder is what every host leaves as it is in an address.
var plainFolder = regexp.MustCompile(`^(/[A-Za-z0-9_-][A-Za-z0-9._-]*)+$`)

// parseExport reads the command line; DIR may stand before or behind the flags. The error is flag.ErrHelp or a usageError.
func parseExport(args []string, out io.Writer) (exportOptions, error) {
	var o exportOptions
	f := o.flags(io.Discard)
	for rest := args; ; {
		if err := f.Parse(rest); errors.Is(err, flag.ErrHelp) {
			o.flags(out).Usage()
			return o, err
		} else if err != nil {
			return o, usageError{"export-site: " + err.Error()}
		}
		if f.NArg() == 0 {
			break
		}
		if o.dir != "" {
			return o, usageError{fmt.Sprintf("export-site: one folder, not %q and %q", o.dir, f.Arg(0))}
		}
		o.dir, rest = f.Arg(0), f.Args()[1:]
	}
	if o.dir == "" {
		return o, usageError{"export-site: name the folder to write into"}
	}
	o.base = strings.TrimRight(o.base, "/")
	if o.base != "" && !plainFolder.MatchString(o.base) {
		return o, usageError{fmt.Sprintf("export-site: --base %q must begin with / and have letters, digits, points, dashes and slashes only, as /shop/torchside", o.base)}
	}
	if o.vault != "" {
		if err := server.CheckOrigin(o.vault); err != nil {
			return o, usageError{"export-site: --vault: " + err.Error()}
		}
	}
	return o, nil
}

// exportSite writes the app as files.
func (p program) exportSite(_ context.Context, args []string) error {
	o, err := parseExport(args, p.stdout)
	if errors.Is(err, flag.ErrHelp) {
		return nil
	}
	if err != nil {
		return err
	}
	site, err := p.siteFor(pwa.Config{Base: o.base, Vault: o.vault, PolicyInPage: true})
	if err != nil {
		return err
	}
	if err := emptyFolder(o.dir); err != nil {
		return err
	}
	n, err := writeSite(o.dir, site)
	if err != nil {
		return err
	}
	fmt.Fprintf(p.stdout, "%d files are in %s. Put them at %s/ of a host with HTTPS; phones open that address once and have the app.\n", n, o.dir, o.base)
	if o.vault != "" {
		fmt.Fprintf(p.stdout, "The server at %s must be started with --allow-origin and the origin of that host.\n", o.vault)
	}
	return nil
}

// emptyFolder makes the folder; what is in one already is not ours to remove or to mix with.
func emptyFolder(dir string) error {
	have, err := os.ReadDir(dir)
	if err != nil && !os.IsNotExist(err) {
		return err
	}
	if len(have) > 0 {
		return fmt.Errorf("the folder %s is not empty (%s is in it): name an empty one or one that is not there yet", dir, have[0].Name())
	}
	return os.MkdirAll(dir, 0o755)
}

// writeSite writes every address as the file that static hosts answer it with, and tells how many.
func writeSite(dir string, site *web.Site) (int, error) {
	n := 0
	write := func(name string, body []byte) error {
		name = filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			return err
		}
		n++
		return os.WriteFile(name, body, 0o644)
	}
	for _, address := range site.Addresses("/") {
		body, _ := site.Body(address)
		if err := write(fileOf(address), body); err != nil {
			return n, err
		}
	}
	for ending, body := range site.Packed(web.WasmAddress) { // for hosts that send such files instead
		if err := write(web.WasmAddress+ending, body); err != nil {
			return n, err
		}
	}
	home, _ := site.Body("/")
	return n, write("/404.html", home) // many hosts send it for addresses without a file; the app then says so itself
}

// fileOf is the file of an address. A page is the index of a folder: every host finds that.
func fileOf(address string) string {
	if path.Ext(address) == "" {
		return path.Join(address, "index.html")
	}
	return address
}
