package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"time"

	"torchside/storage/bolt"
	"torchside/storage/vault"
)

// backupWait is how long a running server may take for a backup: hours of photos on a slow card.
const backupWait = 12 * time.Hour

// backupOf lets a vault write a backup, if it is one that can.
func backupOf(ctx context.Context, v vault.Vault, file string, now time.Time) error {
	keeper, ok := v.(interface {
		BackupFile(ctx context.Context, file string, now time.Time) error
	})
	if !ok {
		return errors.New("this vault has no files to back up")
	}
	return keeper.BackupFile(ctx, file, now)
}

// oneFile reads a command line of flags and one file.
func (p program) oneFile(command string, args []string) (ownerFlags, string, error) {
	o, err := p.ownerFlags(command, "FILE [--data FOLDER]", args, false)
	if err != nil {
		return o, "", err
	}
	if len(o.args) != 1 {
		return o, "", usageError{command + " takes the name of one file"}
	}
	file, err := filepath.Abs(o.args[0]) // a running server has another working folder
	return o, file, err
}

// noFile reads a command line of flags alone.
func (p program) noFile(command, usage string, args []string) (ownerFlags, error) {
	o, err := p.ownerFlags(command, usage, args, false)
	if err == nil && len(o.args) > 0 {
		err = usageError{fmt.Sprintf("%s: %q is not a flag", command, o.args[0])}
	}
	return o, err
}

// backup writes one file that holds the whole vault, also while a server runs.
func (p program) backup(ctx context.Context, args []string) error {
	o, file, err := p.oneFile("backup", args)
	if errors.Is(err, flag.ErrHelp) {
		return nil
	}
	if err != nil {
		return err
	}
	if !fileThere(filepath.Join(o.data, vaultFile)) {
		return fmt.Errorf("there is no vault in %s to back up", o.data)
	}
	if _, err := p.askOwner(ctx, o.data, ownerRequest{Do: "backup", Name: file}); err != nil {
		return err
	}
	fmt.Fprintf(p.stdout, "Everything is in %s. Keep it on another machine or disk.\n", file)
	return nil
}

// restore puts a backup in the place of the vault.
func (p program) restore(ctx context.Context, args []string) error {
	force, args := takeFlag(args, "force")
	o, file, err := p.oneFile("restore", args)
	if errors.Is(err, flag.ErrHelp) {
		fmt.Fprintln(p.stdout, "  -force\n    \talso when the vault holds changes that the backup does not")
		return nil
	}
	if err != nil {
		return err
	}
	done, err := bolt.Restore(ctx, o.data, file, force, time.Now())
	if err != nil {
		return err
	}
	fmt.Fprintf(p.stdout, "The vault is as it was on %s.\n", done.Made.Local().Format("2 January 2006 at 15:04"))
	p.printStats(done.Stats)
	if done.Missing > 0 {
		fmt.Fprintf(p.stdout, "%d photos or files were lost before the backup was made: phones that have them send them again.\n", done.Missing)
	}
	if done.Aside != "" {
		fmt.Fprintf(p.stdout, "The one before it is kept as %s.\n", done.Aside)
	}
	if done.Unknown {
		fmt.Fprintln(p.stdout, "It could not be read: devices put out since the backup may ask again. See \"torchside devices\".")
	}
	fmt.Fprintln(p.stdout, "Start the server: every phone that was paired then sends what it holds. Phones paired later must be paired again.")
	return nil
}

// compact gives the disk back what the vault does not use.
func (p program) compact(ctx context.Context, args []string) error {
	o, err := p.noFile("compact", "[--data FOLDER]", args)
	if errors.Is(err, flag.ErrHelp) {
		fmt.Fprintln(p.stdout, "\nStop the server first. The disk needs room for a second "+vaultFile+" until the new one is checked.")
		return nil
	}
	if err != nil {
		return err
	}
	done, err := bolt.Compact(ctx, o.data)
	if errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("there is no vault in %s", o.data)
	}
	if err != nil {
		return err
	}
	fmt.Fprintf(p.stdout, "The vault was written anew: %.1f MB, before it had %.1f MB. Nothing in it changed.\n", float64(done.After)/1e6, float64(done.Before)/1e6)
	return nil
}

// check looks at everything in the vault. Damage is an error.
func (p program) check(ctx context.Context, args []string) error {
	repair, args := takeFlag(args, "repair")
	o, err := p.noFile("check", "[--repair] [--data FOLDER]", args)
	if errors.Is(err, flag.ErrHelp) {
		fmt.Fprintln(p.stdout, "  -repair\n    \task the phones again for photos that are lost, and delete files that nothing names")
		return nil
	}
	if err != nil {
		return err
	}
	look := bolt.Check
	if repair {
		look = bolt.Repair
	}
	report, err := look(ctx, o.data)
	if errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("there is no vault in %s", o.data)
	}
	if err != nil {
		return err
	}
	return p.printReport(report)
}

func (p program) printReport(r bolt.Report) error {
	p.printStats(r.Stats)
	p.printMended(r.Mended)
	if r.Lost > 0 {
		fmt.Fprintf(p.stdout, "Lost: %d photos or files (%.1f MB) that changes name.\n", r.Lost, float64(r.LostBytes)/1e6)
	}
	for _, f := range r.Findings {
		word := "note"
		if f.Damage {
			word = "DAMAGE"
		}
		fmt.Fprintf(p.stdout, "%s: %s\n    %s\n", word, f.What, f.Do)
	}
	if !r.Sound() {
		return errors.New("the vault is damaged: see above what to do")
	}
	fmt.Fprintln(p.stdout, "The vault is sound.")
	return nil
}

// printMended says what a repair did.
func (p program) printMended(m bolt.Mended) {
	if m.Wanted > 0 {
		fmt.Fprintf(p.stdout, "Repaired: %d lost photos or files are asked for again; a phone that still has them sends them.\n", m.Wanted)
	}
	for _, path := range m.Kept {
		fmt.Fprintf(p.stdout, "    what is left of one is kept as %s\n", path)
	}
	if m.Deleted > 0 {
		fmt.Fprintf(p.stdout, "Deleted: %d files that nothing names (%.1f MB).\n", m.Deleted, float64(m.DeletedBytes)/1e6)
	}
}

func (p program) printStats(s vault.Stats) {
	for _, shop := range s.Shops {
		fmt.Fprintf(p.stdout, "%s: %d records, %d changes, %d photos and files (%.1f MB), %d still to come, %d devices\n",
			shop.Shop.Name, shop.Records, shop.Last.Seq, shop.Blobs, float64(shop.BlobBytes)/1e6, shop.Wanted, shop.Devices)
	}
}

// takeFlag takes a flag without a value out of a command line.
func takeFlag(args []string, name string) (given bool, rest []string) {
	is := func(a string) bool { return a == "-"+name || a == "--"+name }
	return slices.ContainsFunc(args, is), slices.DeleteFunc(slices.Clone(args), is)
}

// fileThere tells whether there is a file.
func fileThere(path string) bool {
	_, err := os.Stat(path)
	return !errors.Is(err, fs.ErrNotExist)
}
