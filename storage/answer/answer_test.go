package answer_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"torchside/storage"
	"torchside/storage/answer"
	"torchside/storage/storagetest"
	"torchside/storage/vault"
	"torchside/storage/vault/memvault"
	"torchside/storage/wire"
)

const dev storage.ID = "0195936f-0000-7000-8000-000000000000"

func home(t *testing.T) (*memvault.Disk, answer.Shop) {
	t.Helper()
	disk, err := memvault.NewDisk(storagetest.NewSource(9))
	if err != nil {
		t.Fatal(err)
	}
	v := disk.Open()
	shop, err := v.CreateShop(t.Context(), "home", storagetest.Start)
	if err != nil {
		t.Fatal(err)
	}
	return disk, answer.Shop{Vault: v, ID: shop.ID, Now: func() time.Time { return storagetest.Start }}
}

func exchange(t *testing.T, s answer.Shop, q wire.SyncRequest) wire.SyncReply {
	t.Helper()
	q.Dev = dev
	reply, err := s.Sync(t.Context(), q)
	if err != nil {
		t.Fatal(err)
	}
	return reply
}

// A device that was in step before it sent two hundred changes is in step after.
func TestSync_answers_for_what_it_got_and_does_not_send_it_back(t *testing.T) {
	_, s := home(t)
	ops := storagetest.RandomOps(1, 210)
	first := exchange(t, s, wire.SyncRequest{Ops: ops[:10]})
	if len(first.Ops) != 0 || first.More || first.Next.Seq != 10 || first.Store != s.Vault.ID() || first.Now != storagetest.Start.UnixMilli() {
		t.Errorf("first answer %+v", first)
	}
	second := exchange(t, s, wire.SyncRequest{Ops: ops[10:]})
	if len(second.Acks) != 200 || len(second.Ops) != 10 || second.More || second.Next.Seq != 210 {
		t.Errorf("second answer: %d acks, %d changes, more %v, next %d", len(second.Acks), len(second.Ops), second.More, second.Next.Seq)
	}
	again := exchange(t, s, wire.SyncRequest{Since: first.Next, Ops: ops[10:]})
	for i, a := range again.Acks {
		if a.Op != ops[10+i].ID || a.Status != wire.Held {
			t.Fatalf("ack %d is %+v", i, a)
		}
	}
	if len(again.Ops) != 0 || again.Next != second.Next {
		t.Errorf("sent again: %d changes, next %+v", len(again.Ops), again.Next)
	}
}

func TestSync_gives_pages_that_join_to_the_whole_log(t *testing.T) {
	_, s := home(t)
	ops := storagetest.RandomOps(2, 450)
	for part := range slices.Chunk(ops, 150) {
		exchange(t, s, wire.SyncRequest{Ops: part})
	}
	var got []storage.Op
	for since, more := (storage.Checkpoint{}), true; more; {
		reply := exchange(t, s, wire.SyncRequest{Since: since})
		page, err := reply.ReadOps()
		if err != nil || len(page) > wire.MaxOps || len(page) == 0 {
			t.Fatalf("a page of %d changes, %v", len(page), err)
		}
		got, since, more = append(got, page...), reply.Next, reply.More
	}
	if !storagetest.SameOps(got, ops) {
		t.Errorf("%d changes in pages, want %d in the order they came", len(got), len(ops))
	}
}

func TestSync_says_when_a_checkpoint_is_not_its_own_and_takes_nothing(t *testing.T) {
	disk, s := home(t)
	ops := storagetest.RandomOps(3, 20)
	exchange(t, s, wire.SyncRequest{Ops: ops[:5]})
	backup := disk.Snapshot()
	lost := exchange(t, s, wire.SyncRequest{Ops: ops[5:10]}).Next
	disk.Restore(backup)
	s.Vault = disk.Open()
	foreign := lost
	foreign.Store = "another"
	try := func(name string, since storage.Checkpoint) {
		t.Helper()
		reply := exchange(t, s, wire.SyncRequest{Since: since, Ops: ops[19:]})
		if !reply.Mismatch || len(reply.Ops)+len(reply.Acks) != 0 || reply.Next != (storage.Checkpoint{}) {
			t.Errorf("%s: %+v", name, reply)
		}
	}
	try("ahead", lost)
	try("another vault", foreign)
	if end := exchange(t, s, wire.SyncRequest{Ops: ops[10:15]}).Next; end.Seq != lost.Seq {
		t.Fatalf("the log has %d entries, want %d", end.Seq, lost.Seq)
	}
	try("the number of something else", lost)
}

func TestSync_names_wanted_attachments_page_by_page(t *testing.T) {
	_, s := home(t)
	var want []storage.Hash
	ops := storagetest.RandomOps(4, 3)
	for i := range ops {
		ops[i].Blobs = nil
		for n := range 150 {
			ops[i].Blobs = append(ops[i].Blobs, storage.HashOf(fmt.Append(nil, i, n)))
		}
		slices.Sort(ops[i].Blobs)
		want = append(want, ops[i].Blobs...)
	}
	slices.Sort(want)
	reply := exchange(t, s, wire.SyncRequest{Ops: ops})
	got := reply.Want
	for reply.WantMore {
		reply = exchange(t, s, wire.SyncRequest{Since: reply.Next, WantAfter: got[len(got)-1]})
		got = append(got, reply.Want...)
	}
	if !slices.Equal(got, want) {
		t.Errorf("%d wanted, want %d in order", len(got), len(want))
	}
}

func TestBlobs_are_taken_and_given_in_pieces(t *testing.T) {
	_, s := home(t)
	data := bytes.Repeat([]byte("x"), wire.MaxPiece+5)
	h := storage.HashOf(data)
	op := storagetest.RandomOps(5, 1)[0]
	op.Blobs = []storage.Hash{h}
	wants := func(err error, code wire.Code) {
		t.Helper()
		if !errors.Is(err, &wire.Error{Code: code}) {
			t.Errorf("error %v, want code %s", err, code)
		}
	}
	wants(s.PutPiece(t.Context(), h, 0, data[:5], false), wire.CodeNotFound)
	exchange(t, s, wire.SyncRequest{Ops: []storage.Op{op}})
	_, err := s.GetPiece(t.Context(), h, 0)
	wants(err, wire.CodeNotFound)
	wants(s.PutPiece(t.Context(), h, 0, data, true), wire.CodeTooLarge)
	wants(s.PutPiece(t.Context(), h, 7, data[7:9], false), wire.CodeOffset)
	wants(s.PutPiece(t.Context(), h, 0, []byte("other"), true), wire.CodeBadHash)
	wants(s.PutPiece(t.Context(), "../../etc", 0, data[:5], false), wire.CodeMalformed)
	if err := s.PutPiece(t.Context(), h, 0, data[:wire.MaxPiece], false); err != nil {
		t.Fatal(err)
	}
	if state, err := s.BlobState(t.Context(), h); err != nil || state != (wire.BlobState{Have: wire.MaxPiece}) {
		t.Errorf("state %+v, %v", state, err)
	}
	if err := s.PutPiece(t.Context(), h, wire.MaxPiece, data[wire.MaxPiece:], true); err != nil {
		t.Fatal(err)
	}
	first, err := s.GetPiece(t.Context(), h, 0)
	rest, err2 := s.GetPiece(t.Context(), h, wire.MaxPiece)
	if err := errors.Join(err, err2); err != nil || !bytes.Equal(append(first.Data, rest.Data...), data) || rest.Size != int64(len(data)) {
		t.Errorf("%d and %d bytes of %d, %v", len(first.Data), len(rest.Data), rest.Size, err)
	}
	if end, err := s.GetPiece(t.Context(), h, int64(len(data))); err != nil || len(end.Data) != 0 || end.Size != int64(len(data)) {
		t.Errorf("at the end: %d bytes, %v", len(end.Data), err)
	}
	_, err = s.GetPiece(t.Context(), h, -1)
	wants(err, wire.CodeMalformed)
}

// failing fails with what it is told.
type failing struct {
	vault.Vault
	err error
}

func (f failing) Push(context.Context, vault.ShopID, []storage.Op) ([]vault.Ack, error) {
	return nil, f.err
}

func TestSync_says_what_failed_without_telling_what_is_no_stranger_s_business(t *testing.T) {
	_, s := home(t)
	inner := s.Vault
	for _, c := range []struct {
		err  error
		code wire.Code
	}{
		{fmt.Errorf("write /srv/vault.bolt: %w", storage.ErrFull), wire.CodeFull},
		{storage.ErrClosed, wire.CodeUnavailable},
		{vault.ErrNoShop, wire.CodeNotFound},
		{errors.New("open /srv/secret: no such file"), wire.CodeInternal},
	} {
		s.Vault = failing{inner, c.err}
		_, err := s.Sync(t.Context(), wire.SyncRequest{Dev: dev, Ops: storagetest.RandomOps(6, 1)})
		if !errors.Is(err, &wire.Error{Code: c.code}) || strings.Contains(err.Error(), "/srv/") {
			t.Errorf("%v gives %v", c.err, err)
		}
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	s.Vault = inner
	if _, err := s.Sync(ctx, wire.SyncRequest{Dev: dev}); !errors.Is(err, context.Canceled) {
		t.Errorf("a cancelled call: %v", err)
	}
}

// trimming drops old versions between a push and the pull that follows it.
type trimming struct {
	vault.Vault
	between func()
}

func (v trimming) Push(ctx context.Context, shop vault.ShopID, ops []storage.Op) ([]vault.Ack, error) {
	acks, err := v.Vault.Push(ctx, shop, ops)
	v.between()
	return acks, err
}

// An op that was held a moment ago may be dropped by now: what the answer says
// of it and what else it brings must be of one moment.
func TestSync_says_to_try_again_when_old_versions_are_dropped_meanwhile(t *testing.T) {
	_, s := home(t)
	ops := storagetest.RandomOps(7, 2)
	ops[1].Rec, ops[1].Kind, ops[1].Parents = ops[0].Rec, ops[0].Kind, []storage.ID{ops[0].ID}
	if err := s.Vault.SetKeep(t.Context(), s.ID, 1, storagetest.Start); err != nil {
		t.Fatal(err)
	}
	exchange(t, s, wire.SyncRequest{Ops: ops})
	inner := s.Vault
	s.Vault = trimming{inner, func() {
		for day := range 2 {
			if err := inner.MarkDay(t.Context(), storagetest.Start.AddDate(0, 0, day+1)); err != nil {
				t.Fatal(err)
			}
		}
		if done, err := inner.Trim(t.Context(), s.ID); err != nil || done.Ops != 1 {
			t.Fatalf("dropped %+v, %v", done, err)
		}
	}}
	_, err := s.Sync(t.Context(), wire.SyncRequest{Dev: dev, Ops: ops[:1]})
	if !errors.Is(err, &wire.Error{Code: wire.CodeUnavailable}) {
		t.Errorf("got %v, want to be asked again", err)
	}
	s.Vault = inner
	again := exchange(t, s, wire.SyncRequest{Ops: ops[:1]})
	if a := again.Acks[0]; a.Status != wire.Held || !a.Dropped || len(again.Ops) != 1 {
		t.Errorf("then %+v and %d changes", a, len(again.Ops))
	}
}
