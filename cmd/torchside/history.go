package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"log/slog"
	"strconv"
	"strings"
	"time"

	"torchside/storage/vault"
)

// forEver is the word for no limit.
const forEver = "all"

// history shows, sets or applies how long replaced versions are kept.
func (p program) history(ctx context.Context, args []string) error {
	keep, args, err := takeValue(args, "keep")
	if err != nil {
		return err
	}
	o, err := p.ownerFlags("history", "[trim] [--keep DAYSd|all] [--shop NAME]", args, true)
	if errors.Is(err, flag.ErrHelp) {
		fmt.Fprintln(p.stdout, "  -keep DAYSd|all\n    \thow long versions are kept that newer ones replaced, in days the server ran, as 365d\n"+
			"\ntrim drops what is older now; a running server does so each day. The newest version of everything always stays.")
		return nil
	}
	if err != nil {
		return err
	}
	q := ownerRequest{Do: "history", Shop: o.shop}
	switch words := o.args; {
	case len(words) == 0 && keep != "":
		q.Do = "keep history"
		if q.Days, err = daysOf(keep); err != nil {
			return err
		}
	case len(words) == 1 && words[0] == "trim" && keep == "":
		q.Do = "trim history"
	case len(words) > 0 || keep != "":
		return usageError{fmt.Sprintf("history: %q is neither \"trim\" nor a flag, and one of both goes at a time", strings.Join(words, " "))}
	}
	reply, err := p.askOwner(ctx, o.data, q)
	if err != nil {
		return err
	}
	p.printHistory(q, reply)
	return nil
}

// daysOf reads "365d" or "all", which is 0.
func daysOf(text string) (int, error) {
	if text == forEver {
		return 0, nil
	}
	number, day := strings.CutSuffix(text, "d")
	days, err := strconv.Atoi(number)
	if !day || err != nil || days < 1 || days > vault.MaxKeep {
		return 0, usageError{fmt.Sprintf("history: --keep is %q and must be a number of days from 1d to %dd, or %s", text, vault.MaxKeep, forEver)}
	}
	return days, nil
}

// keptFor says how long replaced versions are kept.
func keptFor(days int) string {
	switch days {
	case 0:
		return "every version is kept"
	case 1:
		return "replaced versions are kept for 1 day"
	}
	return fmt.Sprintf("replaced versions are kept for %d days", days)
}

// printHistory says what is set and what was dropped.
func (p program) printHistory(q ownerRequest, r ownerReply) {
	for _, s := range r.Stats {
		if s.Shop.ID == r.Shop.ID {
			fmt.Fprintf(p.stdout, "%s: %s; %d changes, of which %d were dropped, and %d photos or files with them\n",
				s.Shop.Name, keptFor(s.Keep), s.Last.Seq, s.Dropped, s.Gone)
		}
	}
	switch q.Do {
	case "trim history":
		fmt.Fprintf(p.stdout, "Dropped now: %s.\n", trimmedText(r.Trimmed))
	case "keep history":
		if q.Days > 0 {
			fmt.Fprintf(p.stdout, "Days count from today, and only those on which the server runs. What is older then is gone for good, with the photos that only "+
				"such versions show; the newest version of everything stays. Phones keep what they have. Make a backup first: torchside backup FILE\n")
		}
	}
}

func trimmedText(t vault.Trimmed) string {
	return fmt.Sprintf("%d replaced versions (%.2f MB of text) and %d photos or files (%.1f MB)", t.Ops, float64(t.Bytes)/1e6, t.Blobs, float64(t.BlobBytes)/1e6)
}

// doHistory answers what the owner asks of one shop's history.
func (o owner) doHistory(ctx context.Context, q ownerRequest, r *ownerReply) (err error) {
	switch q.Do {
	case "keep history":
		err = o.noted(ctx, o.vault.SetKeep(ctx, r.Shop.ID, q.Days, o.now()), r.Shop.ID, "history limit set", keptFor(q.Days))
	case "trim history":
		if err = o.vault.MarkDay(ctx, o.now()); err == nil {
			r.Trimmed, err = o.trim(ctx, r.Shop.ID)
		}
	}
	if err != nil {
		return err
	}
	stats, err := o.vault.Stats(ctx)
	r.Stats = stats.Shops
	return err
}

// trim drops old versions of a shop, and notes it if there were any.
func (o owner) trim(ctx context.Context, shop vault.ShopID) (vault.Trimmed, error) {
	done, err := o.vault.Trim(ctx, shop)
	if err != nil || done.Ops == 0 {
		return done, err
	}
	return done, o.noted(ctx, nil, shop, "old versions dropped", trimmedText(done))
}

// Between two marks of a day, which count once each, and between two trims.
const (
	markEvery = time.Hour
	trimEvery = 24 * time.Hour
)

// tend counts the days the server runs, and drops what is older than the shops keep, until ctx ends; it then closes what it returns.
func (o owner) tend(ctx context.Context, log *slog.Logger) (done chan struct{}) {
	done = make(chan struct{})
	go func() {
		defer close(done)
		tick := time.NewTicker(markEvery)
		defer tick.Stop()
		for n := 0; ; n++ {
			o.tendOnce(ctx, log, n%int(trimEvery/markEvery) == 0)
			select {
			case <-ctx.Done():
				return
			case <-tick.C:
			}
		}
	}()
	return done
}

// tendOnce marks the day and, if it is time, trims each shop. What fails is tried again at the next time.
func (o owner) tendOnce(ctx context.Context, log *slog.Logger, trim bool) {
	err := o.vault.MarkDay(ctx, o.now())
	var shops []vault.Shop
	if err == nil && trim {
		shops, err = o.vault.Shops(ctx)
	}
	for _, s := range shops {
		done, failed := o.trim(ctx, s.ID)
		if err = errors.Join(err, failed); failed == nil && done.Ops > 0 {
			log.Info("old versions dropped", "shop", s.Name, "what", trimmedText(done))
		}
	}
	if err != nil && ctx.Err() == nil {
		log.Error("old versions could not be dropped", "cause", err.Error())
	}
}

// takeValue takes a flag with its value out of a command line.
func takeValue(args []string, name string) (value string, rest []string, err error) {
	for i := 0; i < len(args); i++ {
		word := strings.TrimPrefix(strings.TrimPrefix(args[i], "-"), "-")
		given, found := strings.CutPrefix(word, name+"=")
		switch {
		case word == args[i] || word != name && !found:
			rest = append(rest, args[i])
			continue
		case found:
			value = given
		case i+1 < len(args):
			i++
			value = args[i]
		}
		if value == "" {
			return "", nil, usageError{"--" + name + " needs a value"}
		}
	}
	return value, rest, nil
}
