package storage_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"
	"testing/iotest"
	"time"

	"torchside/storage"
	"torchside/storage/storagetest"
)

func TestNewID_sorts_by_time_and_counter_and_tells_its_time(t *testing.T) {
	src := storagetest.NewSource(1)
	last := storage.ID("")
	clock := storage.HLC{}
	for i := range 2000 {
		clock = clock.Next(storagetest.Start.Add(time.Duration(i/100) * time.Millisecond))
		id, err := storage.NewID(clock, src)
		if err != nil || id.Check() != nil || id <= last || id.Time().UnixMilli() != clock.Milli {
			t.Fatalf("id %d = %q after %q, time %v, %v", i, id, last, id.Time(), err)
		}
		last = id
	}
}

// RFC 9562 appendix A.6 gives this example of a version 7 UUID: 2022-02-22
// 14:22:22.00 GMT-05:00, unix_ts_ms 0x017F22E279B0, rand_a 0xCC3, rand_b
// 0x18C4DC0C0C07398F (62 bits).
func TestNewID_lays_bits_out_as_RFC_9562_does(t *testing.T) {
	random := bytes.NewReader([]byte{0x18, 0xc4, 0xdc, 0x0c, 0x0c, 0x07, 0x39, 0x8f})
	at := time.Date(2022, 2, 22, 14, 22, 22, 0, time.FixedZone("", -5*3600))
	id, err := storage.NewID(storage.HLC{Milli: at.UnixMilli(), Counter: 0xcc3}, random)
	if want := storage.ID("017f22e2-79b0-7cc3-98c4-dc0c0c07398f"); id != want || err != nil {
		t.Errorf("id = %s, %v, want %s", id, err, want)
	}
}

func TestNewID_passes_on_a_random_source_that_fails(t *testing.T) {
	if _, err := storage.NewID(storage.HLC{}, iotest.ErrReader(errNoLuck)); !errors.Is(err, errNoLuck) {
		t.Errorf("error = %v", err)
	}
}

var errNoLuck = errors.New("no randomness")

func TestID_Check_takes_only_the_canonical_text(t *testing.T) {
	good := storagetest.NewSource(2).ID(1)
	for _, bad := range []storage.ID{
		"", good[1:], good + "0", storage.ID(strings.ToUpper(string(good))), good[:8] + "_" + good[9:],
		good[:14] + "4" + good[15:], good[:19] + "c" + good[20:], good[:35] + "g", good[:34] + "½",
	} {
		if err := bad.Check(); !errors.Is(err, storage.ErrInvalid) {
			t.Errorf("%q: %v", bad, err)
		}
		if !bad.Time().IsZero() {
			t.Errorf("%q tells a time", bad)
		}
	}
	if eight := good[:14] + "8" + good[15:]; eight.Check() != nil || !eight.Time().IsZero() {
		t.Errorf("version 8 id %q: %v, %v", eight, eight.Check(), eight.Time())
	}
}

func TestHLC_Next_always_goes_forward(t *testing.T) {
	h := storage.HLC{}
	for _, step := range []time.Duration{0, time.Millisecond, -time.Hour, 0, 20 * 365 * 24 * time.Hour, -100 * 365 * 24 * time.Hour} {
		next := h.Next(storagetest.Start.Add(step))
		if next.Compare(h) != 1 || h.Compare(next) != -1 || h.String() >= next.String() {
			t.Errorf("after %v at %+v comes %v", h, step, next)
		}
		h = next
	}
	full := storage.HLC{Milli: 5, Counter: 1<<32 - 1}
	if next := full.Next(time.UnixMilli(0)); next != (storage.HLC{Milli: 6}) {
		t.Errorf("after a full counter comes %v", next)
	}
}

// One device whose clock is years ahead must not drag the others along.
func TestHLC_Observe_follows_others_up_to_five_minutes_ahead(t *testing.T) {
	now := storagetest.Start
	own := storage.HLC{Milli: now.UnixMilli()}
	near := storage.HLC{Milli: now.Add(5 * time.Minute).UnixMilli()}
	far := storage.HLC{Milli: near.Milli + 1}
	if got := own.Observe(near, now); got != near {
		t.Errorf("five minutes ahead: %v", got)
	}
	if got := own.Observe(far, now); got != own {
		t.Errorf("more than five minutes ahead: %v", got)
	}
	if got := near.Observe(own, now); got != near {
		t.Errorf("a reading in the past: %v", got)
	}
}

func TestHLC_reads_its_own_text_and_nothing_else(t *testing.T) {
	h := storage.HLC{Milli: 1<<48 - 1, Counter: 77}
	text, err := h.MarshalText()
	var back storage.HLC
	if err != nil || back.UnmarshalText(text) != nil || back != h {
		t.Errorf("%v became %s and %v, %v", h, text, back, err)
	}
	for _, bad := range []string{"", "0", string(text) + "0", strings.ToUpper(string(text)), "-00000000001.00000000", "000000000001-00000000", "00000000000g.00000000", "000000000001.0000000g"} {
		if err := back.UnmarshalText([]byte(bad)); !errors.Is(err, storage.ErrInvalid) {
			t.Errorf("%q was read: %v", bad, err)
		}
	}
	if _, err := (storage.HLC{Milli: -1}).MarshalText(); !errors.Is(err, storage.ErrInvalid) {
		t.Errorf("a negative reading was written: %v", err)
	}
}

func TestOp_JSON_gives_back_the_same_op_from_the_same_text(t *testing.T) {
	for _, op := range storagetest.RandomOps(3, 500) {
		text, err := json.Marshal(op)
		var back storage.Op
		if err != nil || json.Unmarshal(text, &back) != nil || !back.Equal(op) {
			t.Fatalf("%+v became %s and %+v, %v", op, text, back, err)
		}
		again, err := json.Marshal(back)
		if err != nil || !bytes.Equal(again, text) {
			t.Fatalf("%s became %s, %v", text, again, err)
		}
	}
}

func TestOp_JSON_keeps_text_readable(t *testing.T) {
	op := storagetest.RandomOps(4, 1)[0]
	op.Del, op.Body = false, []byte("½ inch tip")
	text, err := json.Marshal(op)
	if err != nil || !strings.Contains(string(text), `"body":"½ inch tip"`) {
		t.Errorf("%s, %v", text, err)
	}
}

func TestOp_JSON_refuses_what_it_does_not_know(t *testing.T) {
	for _, bad := range []string{`{"op":1}`, `{"later":true}`, `[]`, `{"body64":"?"}`, `{"hlc":"now"}`} {
		var op storage.Op
		if err := op.UnmarshalJSON([]byte(bad)); !errors.Is(err, storage.ErrCorrupt) {
			t.Errorf("%s: %v", bad, err)
		}
	}
	var op storage.Op
	if err := op.UnmarshalJSON([]byte(`{} {}`)); !errors.Is(err, storage.ErrCorrupt) {
		t.Errorf("two values: %v", err)
	}
}

func TestOp_Compare_is_a_total_order_with_edits_above_deletions(t *testing.T) {
	ops := storagetest.RandomOps(5, 200)
	slices.SortFunc(ops, storage.Op.Compare)
	for i, op := range ops[1:] {
		if prev := ops[i]; prev.Compare(op) != -1 || op.Compare(prev) != 1 || op.Del && !prev.Del {
			t.Errorf("%+v does not stand below %+v", prev, op)
		}
	}
}

func TestOp_Clone_shares_no_memory(t *testing.T) {
	op := storagetest.RandomOps(6, 60)[59]
	op.Parents, op.Body, op.Blobs = []storage.ID{"a"}, []byte("b"), []string{"c"}
	c := op.Clone()
	c.Parents[0], c.Body[0], c.Blobs[0] = "x", 'x', "x"
	if op.Parents[0] != "a" || op.Body[0] != 'b' || op.Blobs[0] != "c" {
		t.Errorf("the original changed: %+v", op)
	}
}
