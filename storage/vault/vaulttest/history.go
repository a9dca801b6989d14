package vaulttest

import (
	"errors"
	"slices"
	"time"

	"torchside/storage"
	"torchside/storage/vault"
)

// bring stores an attachment that an op names.
func (b *bench) bring(shop vault.ShopID, data string) {
	b.Helper()
	b.try(b.v.WriteBlob(b.ctx(), shop, storage.HashOf([]byte(data)), 0, []byte(data), true))
}

// after is an op that replaces others of one record.
func (b *bench) after(blob string, parents ...storage.Op) storage.Op {
	var names []storage.Hash
	if blob != "" {
		names = append(names, storage.HashOf([]byte(blob)))
	}
	o := b.op(names...)
	o.Rec, o.Kind, o.Parents = parents[0].Rec, parents[0].Kind, nil
	for _, p := range parents {
		o.Parents = append(o.Parents, p.ID)
	}
	slices.Sort(o.Parents)
	return o
}

// days marks so many days from the nth after now on, and trims after each.
func (b *bench) days(shop vault.ShopID, first, n int) (all vault.Trimmed) {
	b.Helper()
	for i := range n {
		b.try(b.v.MarkDay(b.ctx(), now.AddDate(0, 0, first+i)))
		done, err := b.v.Trim(b.ctx(), shop)
		b.try(err)
		all.Ops, all.Blobs, all.Bytes, all.BlobBytes = all.Ops+done.Ops, all.Blobs+done.Blobs, all.Bytes+done.Bytes, all.BlobBytes+done.BlobBytes
	}
	return all
}

// threeVersions pushes a record of three versions, each with a photo that is held.
func (b *bench) threeVersions(shop vault.ShopID) [3]storage.Op {
	b.Helper()
	one := b.op(storage.HashOf([]byte("one")))
	two := b.after("two", one)
	three := b.after("three", two)
	b.push(shop, vault.Stored, one, two, three)
	for _, data := range []string{"one", "two", "three"} {
		b.bring(shop, data)
	}
	return [3]storage.Op{one, two, three}
}

func trims(b *bench) {
	shop := b.shop("Home")
	v := b.threeVersions(shop)
	before := b.all(shop).Next
	if done := b.days(shop, 1, 9); done != (vault.Trimmed{}) {
		b.Errorf("without a limit %+v was dropped", done)
	}
	b.try(b.v.SetKeep(b.ctx(), shop, 2, now.AddDate(0, 0, 10)))
	if done := b.days(shop, 11, 1); done != (vault.Trimmed{}) {
		b.Errorf("before the limit %+v was dropped", done)
	}
	size := 0
	for _, op := range v[:2] {
		raw, err := op.MarshalJSON()
		b.try(err)
		size += len(raw)
	}
	b.reopen()
	if done, want := b.days(shop, 12, 3), (vault.Trimmed{Ops: 2, Bytes: int64(size), Blobs: 2, BlobBytes: 6}); done != want {
		b.Errorf("dropped %+v, want %+v", done, want)
	}
	for range 2 {
		b.trimmed(shop, v, before)
		b.reopen()
	}
}

// trimmed looks at threeVersions of which two were dropped.
func (b *bench) trimmed(shop vault.ShopID, v [3]storage.Op, before vault.Checkpoint) {
	b.Helper()
	ops, err := b.all(shop).Decode()
	b.try(err)
	if len(ops) != 1 || !ops[0].Equal(v[2]) {
		b.Errorf("%d ops are given out, want the newest alone", len(ops))
	}
	b.push(shop, vault.Dropped, v[0], v[1])
	b.push(shop, vault.Held, v[2])
	other := v[0].Clone()
	other.Body, other.Del = []byte("something else"), false
	acks, err := b.v.Push(b.ctx(), shop, []storage.Op{other})
	b.try(err)
	if acks[0].Status != vault.Rejected || acks[0].Reason != vault.ReasonMismatch {
		b.Errorf("another text of a dropped op: %+v", acks[0])
	}
	b.holds(shop, storage.HashOf([]byte("three")), []byte("three"))
	b.gone(shop, "one")
	b.gone(shop, "two")
	s := statsOf(b.T, b.v, shop)
	if s.Last.Seq != 3 || s.Records != 1 || s.Blobs != 1 || s.BlobBytes != 5 || s.Wanted != 0 || s.Keep != 2 || s.Dropped != 2 || s.Gone != 2 {
		b.Errorf("stats %+v", s)
	}
	b.try(b.v.Verify(b.ctx(), shop, before))
	b.try(b.v.Verify(b.ctx(), shop, s.Last))
}

// gone checks that an attachment is neither held nor wanted, and is said to be gone.
func (b *bench) gone(shop vault.ShopID, data string) {
	b.Helper()
	h := storage.HashOf([]byte(data))
	_, _, open := b.v.OpenBlob(b.ctx(), shop, h)
	_, _, ask := b.v.BlobOffset(b.ctx(), shop, h)
	for _, err := range []error{open, ask, b.v.WriteBlob(b.ctx(), shop, h, 0, []byte(data), true)} {
		if said := (*vault.GoneError)(nil); !errors.As(err, &said) || said.Tag == "" || said.Hash != h {
			b.Errorf("attachment %q: got %v, want that it is gone", data, err)
		}
	}
	names, err := b.v.Want(b.ctx(), shop, 10)
	b.try(err)
	for _, w := range names {
		if w == h {
			b.Errorf("attachment %q is gone and wanted", data)
		}
	}
}

// A device that stopped before what was dropped starts anew; one that goes on
// from a place given out since does not, even if it is as far back.
func trimmedPlaces(b *bench) {
	shop := b.shop("Home")
	b.try(b.v.SetKeep(b.ctx(), shop, 1, now))
	b.threeVersions(shop)
	page, err := b.v.Pull(b.ctx(), shop, vault.Checkpoint{}, vault.Limits{Ops: 1, Bytes: 1})
	b.try(err)
	b.days(shop, 1, 3)
	var other *vault.MismatchError
	if err := b.v.Verify(b.ctx(), shop, page.Next); !errors.As(err, &other) || other.Why != vault.BeforeTrim {
		b.Errorf("a place before what was dropped: %v", err)
	}
	if _, err := b.v.Pull(b.ctx(), shop, page.Next, everything); !errors.As(err, &other) {
		b.Errorf("pulled from there: %v", err)
	}
	fresh := vault.Checkpoint{Store: page.Next.Store, Seq: page.Next.Seq}
	chain, _ := vault.SplitTag(page.Next.Chain)
	_, tag := vault.SplitTag(statsOf(b.T, b.v, shop).Last.Chain)
	fresh.Chain = vault.Tagged(chain, tag)
	b.try(b.v.Verify(b.ctx(), shop, fresh))
	fresh.Chain = vault.Tagged(chain, "0123456789abcdef")
	if err := b.v.Verify(b.ctx(), shop, fresh); !errors.As(err, &other) || other.Why != vault.BeforeTrim {
		b.Errorf("a place of a trim that never was: %v", err)
	}
	start := vault.Checkpoint{Store: fresh.Store}
	if err := b.v.Verify(b.ctx(), shop, start); !errors.As(err, &other) {
		b.Errorf("the start before the trim: %v", err)
	}
}

// A version that is shown, two that wait for a choice, one whose parent is not
// here, and all behind the limit stay, and their attachments with them.
func keepsWhatCounts(b *bench) {
	shop := b.shop("Home")
	b.try(b.v.SetKeep(b.ctx(), shop, 1, now))
	base := b.op()
	left, right := b.after("left", base), b.after("right", base)
	orphan := b.after("orphan", b.op())
	child := b.after("", orphan)
	shared := b.op(storage.HashOf([]byte("shared")))
	newer := b.after("shared", shared)
	b.push(shop, vault.Stored, base, left, right, orphan, child, shared, newer)
	for _, data := range []string{"left", "right", "orphan", "shared"} {
		b.bring(shop, data)
	}
	b.days(shop, 1, 1)
	young := b.op(storage.HashOf([]byte("young")))
	b.push(shop, vault.Stored, young, b.after("", young))
	if done := b.days(shop, 2, 1); done.Ops != 1 || done.Blobs != 0 {
		b.Errorf("dropped %+v, want one op and no attachment", done)
	}
	b.push(shop, vault.Held, base, left, right, orphan, child, newer, young)
	b.push(shop, vault.Dropped, shared)
	for _, data := range []string{"left", "right", "orphan", "shared"} {
		b.holds(shop, storage.HashOf([]byte(data)), []byte(data))
	}
	b.push(shop, vault.Stored, b.after("", left, right))
	b.days(shop, 3, 3)
	b.push(shop, vault.Dropped, base, left, right, young)
	b.gone(shop, "left")
	b.gone(shop, "young") // which never came
}

func wantedAgain(b *bench) {
	shop := b.shop("Home")
	b.try(b.v.SetKeep(b.ctx(), shop, 1, now))
	v := b.threeVersions(shop)
	b.days(shop, 1, 3)
	b.gone(shop, "one")
	b.push(shop, vault.Stored, b.after("one", v[2]))
	names, err := b.v.Want(b.ctx(), shop, 10)
	b.try(err)
	h := storage.HashOf([]byte("one"))
	if len(names) != 1 || names[0] != h {
		b.Errorf("wanted: %v", names)
	}
	b.bring(shop, "one")
	b.reopen()
	b.holds(shop, h, []byte("one"))
	b.gone(shop, "two")
}

// Days count once, and not when the clock is set back; a leap counts as one.
func countsDays(b *bench) {
	shop := b.shop("Home")
	for _, bad := range []int{-1, vault.MaxKeep + 1} {
		if err := b.v.SetKeep(b.ctx(), shop, bad, now); !errors.Is(err, storage.ErrInvalid) {
			b.Errorf("%d days: %v", bad, err)
		}
	}
	b.try(b.v.SetKeep(b.ctx(), shop, 2, now))
	b.threeVersions(shop)
	for _, at := range []time.Time{now.Add(time.Minute), now.AddDate(0, 0, 1), now.AddDate(-1, 0, 0), now, now.AddDate(0, 0, 1), now.AddDate(9, 0, 0), now.AddDate(0, 0, 2)} {
		b.try(b.v.MarkDay(b.ctx(), at))
	}
	if done, err := b.v.Trim(b.ctx(), shop); err != nil || done.Ops != 0 {
		b.Errorf("after two days that count: %+v, %v", done, err) // marked: before the ops, and twice behind them
	}
	b.try(b.v.MarkDay(b.ctx(), now.AddDate(9, 0, 1)))
	if done, err := b.v.Trim(b.ctx(), shop); err != nil || done.Ops != 2 {
		b.Errorf("after three days that count: %+v, %v", done, err)
	}
}
