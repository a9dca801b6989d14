package server_test

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"torchside/storage"
	"torchside/storage/wire"
)

// An op that breaks a rule is refused by itself; the good ones beside it are stored.
func TestSync_one_bad_op_blocks_nothing(t *testing.T) {
	w, p := oneShop(t)
	var m opMaker
	good := m.op(t, "good")
	text, err := json.Marshal(good)
	if err != nil {
		t.Fatal(err)
	}
	future := m.op(t, "made by a build of the year 2040")
	future.Kind, future.Schema = "hologram", 99
	futureText, _ := json.Marshal(future)
	body := fmt.Sprintf(`{"dev":%q,"since":{"store":"","seq":0,"chain":""},"ops":[{"op":7},%s,{"op":%q},null,%s]}`, m.dev, text, good.Rec, futureText)
	_, _, answer := w.ask(asked{method: "POST", path: "/sync", token: p.token, body: []byte(body)})
	var r wire.SyncReply
	if err := json.Unmarshal(answer, &r); err != nil || len(r.Acks) != 5 {
		t.Fatalf("%s: %v", answer, err)
	}
	for i, want := range []wire.Status{wire.Rejected, wire.Stored, wire.Rejected, wire.Rejected, wire.Stored} {
		if r.Acks[i].Status != want || want == wire.Rejected && r.Acks[i].Reason == "" {
			t.Errorf("op %d: %+v, want %s and a reason if rejected", i, r.Acks[i], want)
		}
	}
	if got := p.pull(t, m.dev); !strings.Contains(got, string(futureText)) || !strings.Contains(got, string(text)) {
		t.Errorf("a kind and schema of the future must come back as they were sent: %s", got)
	}
}

func TestSync_a_replay_changes_nothing_and_other_content_under_the_same_id_is_rejected(t *testing.T) {
	_, p := oneShop(t)
	var m opMaker
	op := m.op(t, "once")
	first := p.push(t, m.dev, op)
	again := p.push(t, m.dev, op, op)
	if first.Acks[0].Status != wire.Stored || again.Acks[0].Status != wire.Held || again.Acks[1].Status != wire.Held {
		t.Errorf("%+v, then %+v", first.Acks, again.Acks)
	}
	forged := op
	forged.Body = []byte("twice")
	r, err := p.Sync(t.Context(), wire.SyncRequest{Dev: m.dev, Ops: []storage.Op{forged}})
	if err != nil || r.Acks[0].Status != wire.Rejected {
		t.Errorf("%+v, %v", r.Acks, err)
	}
	if got := p.pull(t, m.dev); strings.Count(got, "\n") != 1 || !strings.Contains(got, "once") {
		t.Errorf("the vault now holds %s", got)
	}
}

func TestSync_clocks_ten_years_off_are_no_reason_to_refuse(t *testing.T) {
	w, p := oneShop(t)
	var m opMaker
	past, ahead := m.op(t, "past"), m.op(t, "ahead")
	past.HLC.Milli, past.At = w.clock().AddDate(-10, 0, 0).UnixMilli(), "2016-03-01T08:00:00.000Z"
	ahead.HLC.Milli, ahead.At = w.clock().AddDate(10, 0, 0).UnixMilli(), "2036-03-01T08:00:00.000Z"
	p.push(t, m.dev, past, ahead)
	if got := p.pull(t, m.dev); strings.Count(got, "\n") != 2 {
		t.Errorf("got %s", got)
	}
}

func TestSync_a_checkpoint_of_another_vault_or_another_past_is_a_mismatch(t *testing.T) {
	w, p := oneShop(t)
	var m opMaker
	r := p.push(t, m.dev, m.op(t, "one"), m.op(t, "two"))
	other := r.Next
	for name, spoil := range map[string]func(){
		"another store":   func() { other.Store = strings.Repeat("0", len(other.Store)) },
		"another chain":   func() { other.Chain = strings.Repeat("0", len(other.Chain)) },
		"ahead":           func() { other.Seq = 1000 },
		"no chain at all": func() { other.Chain = "" },
		"far ahead":       func() { other.Seq = 1<<64 - 1 },
	} {
		other = r.Next
		spoil()
		got, err := p.Sync(t.Context(), wire.SyncRequest{Dev: m.dev, Since: other})
		if err != nil || !got.Mismatch || len(got.Ops) > 0 || got.Store != w.vault.ID() {
			t.Errorf("%s: %+v, %v", name, got, err)
		}
	}
	got, err := p.Sync(t.Context(), wire.SyncRequest{Dev: m.dev, Since: r.Next})
	if err != nil || got.Mismatch || len(got.Ops) > 0 {
		t.Errorf("the right one: %+v, %v", got, err)
	}
}
