package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"

	"torchside/storage/server"
)

// options are what serve was asked for: flags before environment before defaults.
type options struct {
	addr     string
	data     string
	names    string // comma list of further host names
	tlsCert  string
	tlsKey   string
	tlsLocal bool
	tlsACME  string // comma list of public host names
	plain    string // further address for plain HTTP beside TLS
	metrics  string // who may see the metrics
	allow    string // comma list of origins of other sites that have the app
}

// envPrefix and a flag's name give its environment variable: --tls-cert is TORCHSIDE_TLS_CERT.
const envPrefix = "TORCHSIDE_"

func (o *options) flags(out io.Writer) *flag.FlagSet {
	f := flag.NewFlagSet("torchside serve", flag.ContinueOnError)
	f.SetOutput(out)
	f.StringVar(&o.addr, "addr", "", "`HOST:PORT` to listen on (default localhost:8080; with TLS :8443, with --tls-acme :443)")
	f.StringVar(&o.data, "data", "", "`FOLDER` for the vault and certificates (default: the user's data folder)")
	f.StringVar(&o.names, "names", "", "further host `NAMES` this server answers to, comma between")
	f.StringVar(&o.tlsCert, "tls-cert", "", "certificate chain `FILE` (PEM), read again when it changes")
	f.StringVar(&o.tlsKey, "tls-key", "", "private key `FILE` (PEM) of --tls-cert")
	f.BoolVar(&o.tlsLocal, "tls-local", false, "make an own certificate authority for this shop; phones install it from /ca")
	f.StringVar(&o.tlsACME, "tls-acme", "", "get certificates for these public `NAMES` from Let's Encrypt; accepts its terms")
	f.StringVar(&o.plain, "plain-addr", "", "with TLS: further `HOST:PORT` that sends plain HTTP on to HTTPS (default :80 if --addr has port 443; off for none)")
	f.StringVar(&o.metrics, "metrics", metricsHere, "who may read /metrics: `WHO` is loopback, all or off")
	f.StringVar(&o.allow, "allow-origin", "", "`ORIGINS`, as https://host, of static sites made by export-site whose pages may use this vault, comma between")
	f.Usage = func() {
		fmt.Fprintf(out, "usage: torchside serve [flags]\n\nEach flag can also be set as %sNAME, such as %sTLS_CERT.\n\n", envPrefix, envPrefix)
		f.PrintDefaults()
	}
	return f
}

// parseOptions reads flags and environment. The error is flag.ErrHelp or a usageError.
func parseOptions(args []string, env func(string) (string, bool), out io.Writer) (options, error) {
	var o options
	f := o.flags(io.Discard)
	if err := f.Parse(args); errors.Is(err, flag.ErrHelp) {
		o.flags(out).Usage()
		return o, err
	} else if err != nil {
		return o, usageError{"serve: " + err.Error()}
	}
	if f.NArg() > 0 {
		return o, usageError{fmt.Sprintf("serve: %q is not a flag", f.Arg(0))}
	}
	if err := setFromEnv(f, env); err != nil {
		return o, err
	}
	return o, o.complete(env)
}

// setFromEnv sets each flag that was not given on the command line.
func setFromEnv(f *flag.FlagSet, env func(string) (string, bool)) error {
	given := map[string]bool{}
	f.Visit(func(fl *flag.Flag) { given[fl.Name] = true })
	var failed error
	f.VisitAll(func(fl *flag.Flag) {
		name := envPrefix + strings.ToUpper(strings.ReplaceAll(fl.Name, "-", "_"))
		value, ok := env(name)
		if !ok || value == "" || given[fl.Name] || failed != nil {
			return
		}
		if err := f.Set(fl.Name, value); err != nil {
			failed = usageError{fmt.Sprintf("serve: %s=%q: %v", name, value, err)}
		}
	})
	return failed
}

// complete checks what goes together and fills in the defaults that depend on other flags.
func (o *options) complete(env func(string) (string, bool)) error {
	if (o.tlsCert == "") != (o.tlsKey == "") {
		return usageError{"serve: --tls-cert and --tls-key go together"}
	}
	ways := 0
	for _, chosen := range []bool{o.tlsCert != "", o.tlsLocal, o.tlsACME != ""} {
		if chosen {
			ways++
		}
	}
	if ways > 1 {
		return usageError{"serve: choose one of --tls-cert, --tls-local and --tls-acme"}
	}
	if o.metrics != metricsHere && o.metrics != metricsAll && o.metrics != metricsOff {
		return usageError{fmt.Sprintf("serve: --metrics is %q and must be loopback, all or off", o.metrics)}
	}
	for _, origin := range list(o.allow) {
		if err := server.CheckOrigin(origin); err != nil {
			return usageError{"serve: --allow-origin: " + err.Error()}
		}
	}
	if o.addr == "" {
		o.addr = o.defaultAddr()
	}
	if o.plain == "" && o.secure() && strings.HasSuffix(o.addr, ":443") {
		o.plain = ":80"
	}
	var err error
	if o.data == "" {
		o.data, err = defaultDataFolder(runtime.GOOS, env)
	}
	return err
}

func (o *options) defaultAddr() string {
	switch {
	case o.tlsACME != "":
		return ":443"
	case o.secure():
		return ":8443"
	}
	return "localhost:8080"
}

// secure reports whether the server speaks TLS.
func (o *options) secure() bool { return o.tlsCert != "" || o.tlsLocal || o.tlsACME != "" }

// defaultDataFolder follows the XDG Base Directory Specification on Unix and the system's own
// folder for application data elsewhere.
func defaultDataFolder(goos string, env func(string) (string, bool)) (string, error) {
	if goos != "windows" && goos != "darwin" {
		if dir, ok := env("XDG_DATA_HOME"); ok && filepath.IsAbs(dir) {
			return filepath.Join(dir, "torchside"), nil
		}
		if home, ok := env("HOME"); ok && home != "" {
			return filepath.Join(home, ".local", "share", "torchside"), nil
		}
		return "", errors.New("no home folder is known for the data: give --data FOLDER")
	}
	dir, err := os.UserConfigDir()
	if err != nil {
		return "", fmt.Errorf("no folder is known for the data, give --data FOLDER: %w", err)
	}
	return filepath.Join(dir, "torchside"), nil
}

// list splits a comma list, leaving out blanks.
func list(s string) []string {
	return strings.FieldsFunc(s, func(r rune) bool { return r == ',' || r == ' ' })
}
