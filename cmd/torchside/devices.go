package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"net/netip"
	"runtime"
	"strings"
	"text/tabwriter"
	"time"

	"torchside/storage/server"
	"torchside/storage/vault"
)

// ownerFlags are those of every command that asks for the owner.
type ownerFlags struct {
	data, shop string
	args       []string // what is left of the line
}

// ownerFlags reads the flags of a command, which may stand before or behind its words.
func (p program) ownerFlags(command, usage string, args []string, withShop bool) (ownerFlags, error) {
	var o ownerFlags
	f := flag.NewFlagSet("torchside "+command, flag.ContinueOnError)
	f.SetOutput(io.Discard)
	f.StringVar(&o.data, "data", "", "`FOLDER` of the vault (default: the user's data folder)")
	if withShop {
		f.StringVar(&o.shop, "shop", "", "`NAME` of the shop, if there are several")
	}
	for len(args) > 0 {
		if err := f.Parse(args); errors.Is(err, flag.ErrHelp) {
			f.SetOutput(p.stdout)
			fmt.Fprintf(p.stdout, "usage: torchside %s %s\n\n", command, usage)
			f.PrintDefaults()
			return o, err
		} else if err != nil {
			return o, usageError{command + ": " + err.Error()}
		}
		if args = f.Args(); len(args) > 0 {
			o.args, args = append(o.args, args[0]), args[1:]
		}
	}
	if err := setFromEnv(f, p.env); err != nil {
		return o, err
	}
	var err error
	if o.data == "" {
		o.data, err = defaultDataFolder(runtime.GOOS, p.env)
	}
	return o, err
}

// pair makes a code for a new device and prints it.
func (p program) pair(ctx context.Context, args []string) error {
	o, err := p.ownerFlags("pair", "[--shop NAME]", args, true)
	if errors.Is(err, flag.ErrHelp) {
		return nil
	}
	if err == nil && len(o.args) > 0 {
		err = usageError{fmt.Sprintf("pair: %q is not a flag", o.args[0])}
	}
	if err != nil {
		return err
	}
	reply, err := p.askOwner(ctx, o.data, ownerRequest{Do: "pair", Shop: o.shop})
	if err != nil {
		return err
	}
	return p.printCode(reply)
}

// printCode shows a pairing code and, if a server runs, its QR code.
func (p program) printCode(r ownerReply) error {
	switch {
	case r.Origin == "":
		fmt.Fprintln(p.stdout, "No server is running on this data folder: start it before the code ends.")
	case onlyHere(r.Origin):
		fmt.Fprintf(p.stdout, "On this computer: %s\nPhones do not reach that address: start the server with --addr :8443 --tls-local.\n", server.JoinLink(r.Origin, r.Code))
	case !strings.HasPrefix(r.Origin, "https://"):
		fmt.Fprintln(p.stdout, "Over plain http the app keeps nothing on a phone: start the server with --tls-local, or --tls-cert and --tls-key.")
	default:
		drawing, err := qrText(server.JoinLink(r.Origin, r.Code))
		if err != nil {
			return err
		}
		fmt.Fprintf(p.stdout, "\n%s\nScan this with the new device, or open %s there and type the code.\n", drawing, r.Origin)
	}
	_, err := fmt.Fprintf(p.stdout, "Code for one device of %q, once, until %s: %s\n",
		r.Shop.Name, r.Ends.Local().Format("15:04:05"), server.SpacedCode(r.Code))
	return err
}

// onlyHere tells whether an origin is this computer's name for itself.
func onlyHere(origin string) bool {
	_, host, _ := strings.Cut(origin, "://")
	addr, err := netip.ParseAddr(hostOnly(host))
	return hostOnly(host) == "localhost" || err == nil && addr.IsLoopback()
}

// devices lists, renames and revokes devices.
func (p program) devices(ctx context.Context, args []string) error {
	o, err := p.ownerFlags("devices", "[--shop NAME] [rename DEVICE NAME | revoke DEVICE]", args, true)
	if errors.Is(err, flag.ErrHelp) {
		return nil
	}
	if err != nil {
		return err
	}
	q := ownerRequest{Do: "devices", Shop: o.shop}
	switch words := o.args; {
	case len(words) == 0:
	case words[0] == "rename" && len(words) == 3:
		q.Do, q.Device, q.Name = "rename device", words[1], words[2]
	case words[0] == "revoke" && len(words) == 2:
		q.Do, q.Device = "revoke device", words[1]
	default:
		return usageError{fmt.Sprintf("devices: %q is neither \"rename DEVICE NAME\" nor \"revoke DEVICE\"", strings.Join(words, " "))}
	}
	reply, err := p.askOwner(ctx, o.data, q)
	if err != nil || q.Do != "devices" {
		return err
	}
	return p.printDevices(reply)
}

func (p program) printDevices(r ownerReply) error {
	if len(r.Devices) == 0 {
		_, err := fmt.Fprintf(p.stdout, "Shop %q has no device yet: \"torchside pair\" makes a code for one.\n", r.Shop.Name)
		return err
	}
	t := tabwriter.NewWriter(p.stdout, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "ID\tNAME\tADDED\tLAST SEEN\tSTATE")
	for _, d := range r.Devices {
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\n", d.ID, d.Name, shortTime(d.Added), shortTime(d.Seen), deviceState(d))
	}
	return t.Flush()
}

func deviceState(d vault.Device) string {
	if d.Revoked.IsZero() {
		return "let in"
	}
	return "out since " + shortTime(d.Revoked)
}

func shortTime(t time.Time) string {
	if t.IsZero() {
		return "never"
	}
	return t.Local().Format("2006-01-02 15:04")
}

// shop lists, adds and renames shops.
func (p program) shop(ctx context.Context, args []string) error {
	o, err := p.ownerFlags("shop", "[add NAME | rename SHOP NAME]", args, false)
	if errors.Is(err, flag.ErrHelp) {
		return nil
	}
	if err != nil {
		return err
	}
	q := ownerRequest{Do: "shops"}
	switch words := o.args; {
	case len(words) == 0:
	case words[0] == "add" && len(words) == 2:
		q.Do, q.Name = "add shop", words[1]
	case words[0] == "rename" && len(words) == 3:
		q.Do, q.Shop, q.Name = "rename shop", words[1], words[2]
	default:
		return usageError{fmt.Sprintf("shop: %q is neither \"add NAME\" nor \"rename SHOP NAME\"", strings.Join(words, " "))}
	}
	reply, err := p.askOwner(ctx, o.data, q)
	if err != nil || q.Do != "shops" {
		return err
	}
	for _, s := range reply.Stats {
		fmt.Fprintf(p.stdout, "%s  %s  (%s)\n", s.Shop.ID, s.Shop.Name, keptFor(s.Keep))
	}
	return nil
}

// audit prints who did what.
func (p program) audit(ctx context.Context, args []string) error {
	o, err := p.ownerFlags("audit", "[--shop NAME]", args, true)
	if errors.Is(err, flag.ErrHelp) {
		return nil
	}
	if err == nil && len(o.args) > 0 {
		err = usageError{fmt.Sprintf("audit: %q is not a flag", o.args[0])}
	}
	if err != nil {
		return err
	}
	reply, err := p.askOwner(ctx, o.data, ownerRequest{Do: "audit", Shop: o.shop})
	if err != nil {
		return err
	}
	for _, e := range reply.Audit {
		fmt.Fprintf(p.stdout, "%s  %s  %s  %s\n", shortTime(e.At), e.Event, e.Device, e.Detail)
	}
	return nil
}
