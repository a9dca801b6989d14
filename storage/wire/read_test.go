package wire_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"torchside/storage"
	"torchside/storage/storagetest"
	"torchside/storage/wire"
)

func written(t *testing.T, q wire.SyncRequest) []byte {
	t.Helper()
	text, err := json.Marshal(q)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

func TestReadSyncRequest_reads_what_a_device_writes(t *testing.T) {
	q := wire.SyncRequest{
		Dev: storagetest.NewSource(1).ID(5), Since: storage.Checkpoint{Store: "s", Seq: 7, Chain: storage.HashOf(nil)},
		Ops: storagetest.RandomOps(1, 200), WantAfter: storage.HashOf([]byte("x")),
	}
	got, rejected, err := wire.ReadSyncRequest(written(t, q))
	if err != nil || len(rejected) != 0 || got.Dev != q.Dev || got.Since != q.Since || got.WantAfter != q.WantAfter || !storagetest.SameOps(got.Ops, q.Ops) {
		t.Errorf("read %+v, %v, %v", got, rejected, err)
	}
}

func TestReadSyncRequest_says_what_is_wrong_with_the_whole(t *testing.T) {
	dev := `"dev":"0195936f-0000-7000-8000-000000000000"`
	op, err := json.Marshal(storagetest.RandomOps(2, 1)[0])
	if err != nil {
		t.Fatal(err)
	}
	many := func(n, pad int) string {
		return `{` + dev + `,"ops":[` + strings.TrimSuffix(strings.Repeat(string(op)+strings.Repeat(" ", pad)+",", n), ",") + `]}`
	}
	large := `{"op":"x","body":"` + strings.Repeat("x", wire.MaxBytes/2) + `"}`
	for _, c := range []struct {
		name, text string
		code       wire.Code
	}{
		{"nothing", "", wire.CodeMalformed},
		{"no JSON", "ops", wire.CodeMalformed},
		{"cut off", `{` + dev + `,"ops":[`, wire.CodeMalformed},
		{"two values", `{` + dev + `}{}`, wire.CodeMalformed},
		{"another type", `[]`, wire.CodeMalformed},
		{"no device", `{}`, wire.CodeMalformed},
		{"a device that is none", `{"dev":"me"}`, wire.CodeMalformed},
		{"a number that is none", `{` + dev + `,"since":{"seq":-1}}`, wire.CodeMalformed},
		{"too many changes", many(wire.MaxOps+1, 0), wire.CodeTooLarge},
		{"too many bytes of changes", `{` + dev + `,"ops":[` + large + `,` + large + `]}`, wire.CodeTooLarge},
		{"too long", `{` + dev + `,"ops":[]` + strings.Repeat(" ", wire.MaxRequest) + `}`, wire.CodeTooLarge},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, _, err := wire.ReadSyncRequest([]byte(c.text))
			if !errors.Is(err, &wire.Error{Code: c.code}) {
				t.Errorf("error %v, want code %s", err, c.code)
			}
		})
	}
	if _, _, err := wire.ReadSyncRequest([]byte(many(wire.MaxOps, 0))); err != nil {
		t.Errorf("as many changes as are allowed: %v", err)
	}
}

// One change that cannot be read hides no other. What a newer device adds to
// the request is passed over; what it adds to a change would be lost, so that
// change is not taken.
func TestReadSyncRequest_rejects_single_changes(t *testing.T) {
	ops := storagetest.RandomOps(3, 5)
	texts := make([]string, 0, len(ops))
	for _, op := range ops {
		text, err := json.Marshal(op)
		if err != nil {
			t.Fatal(err)
		}
		texts = append(texts, string(text))
	}
	texts[1] = strings.TrimSuffix(texts[1], "}") + `,"mood":"good"}`
	texts[2] = `"not a change"`
	texts[4] = strings.Replace(texts[4], `"schema":`, `"schema":-`, 1)
	body := `{"dev":"0195936f-0000-7000-8000-000000000000","weather":"fine","ops":[` + strings.Join(texts, ",") + `]}`
	q, rejected, err := wire.ReadSyncRequest([]byte(body))
	if err != nil || !storagetest.SameOps(q.Ops, []storage.Op{ops[0], ops[3]}) {
		t.Fatalf("%d changes read, %v", len(q.Ops), err)
	}
	for i, want := range map[int]storage.ID{1: ops[1].ID, 2: "", 4: ops[4].ID} {
		if a := rejected[i]; a.Op != want || a.Status != wire.Rejected || a.Reason == "" {
			t.Errorf("change %d: %+v", i, a)
		}
	}
	acks := wire.MergeAcks([]wire.Ack{{Op: ops[0].ID, Status: wire.Stored}, {Op: ops[3].ID, Status: wire.Held}}, rejected)
	var order []string
	for _, a := range acks {
		order = append(order, string(a.Status))
	}
	if want := []string{"stored", "rejected", "rejected", "held", "rejected"}; !slices.Equal(order, want) {
		t.Errorf("acks %v, want %v", order, want)
	}
	if short := wire.MergeAcks(nil, rejected); len(short) > len(rejected) {
		t.Errorf("acks of a vault that answered for nothing: %v", short)
	}
}

func TestReadOps_says_which_change_of_an_answer_it_cannot_read(t *testing.T) {
	ops := storagetest.RandomOps(4, 2)
	good, err := json.Marshal(ops[0])
	if err != nil {
		t.Fatal(err)
	}
	newer, err := json.Marshal(ops[1])
	if err != nil {
		t.Fatal(err)
	}
	newer = append(bytes.TrimSuffix(newer, []byte("}")), `,"mood":1}`...)
	if got, err := (wire.SyncReply{Ops: []json.RawMessage{good}}).ReadOps(); err != nil || !storagetest.SameOps(got, ops[:1]) {
		t.Errorf("%v, %v", got, err)
	}
	_, err = wire.SyncReply{Ops: []json.RawMessage{good, newer}}.ReadOps()
	if !errors.Is(err, storage.ErrCorrupt) || !strings.Contains(err.Error(), string(ops[1].ID)) {
		t.Errorf("error %v", err)
	}
}

func TestOpID_finds_the_id_wherever_it_stands(t *testing.T) {
	op := storagetest.RandomOps(5, 1)[0]
	text, err := json.Marshal(op)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		text string
		want storage.ID
	}{
		{string(text), op.ID}, {`{"rec":"x","op":"` + string(op.ID) + `"}`, op.ID}, {`{"op":"short"}`, ""}, {`{`, ""}, {"", ""}, {`{"op":"`, ""},
	} {
		if got := wire.OpID([]byte(c.text)); got != c.want {
			t.Errorf("%.60s: %q, want %q", c.text, got, c.want)
		}
	}
}

func TestError_travels_with_its_status_and_compares_by_code(t *testing.T) {
	err := fmt.Errorf("sync: %w", &wire.Error{Code: wire.CodeFull, Message: "the disk is full", Do: "free space"})
	if !errors.Is(err, &wire.Error{Code: wire.CodeFull}) || errors.Is(err, &wire.Error{Code: wire.CodeOffset}) {
		t.Error("errors do not compare by code")
	}
	if err.Error() != "sync: the disk is full: free space" || wire.Errorf(wire.CodeOffset, "%d", 3).Error() != "3" {
		t.Errorf("text %q", err)
	}
	if wire.CodeFull.HTTP() != 503 || wire.CodeUnauthorized.HTTP() != 401 || wire.Code("of a newer server").HTTP() != 500 {
		t.Error("codes travel with other statuses than documented")
	}
}

// Whatever a stranger sends: no panic, and what is let through keeps the rules.
func FuzzReadSyncRequest(f *testing.F) {
	for seed := range uint64(3) {
		text, err := json.Marshal(wire.SyncRequest{Dev: storagetest.NewSource(seed).ID(1), Ops: storagetest.RandomOps(seed, 3)})
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	f.Add([]byte(`{"dev":"0195936f-0000-7000-8000-000000000000","ops":[null,1,{},{"op":null}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		q, rejected, err := wire.ReadSyncRequest(data)
		if err != nil {
			if said := (*wire.Error)(nil); !errors.As(err, &said) {
				t.Fatalf("not an error of the protocol: %v", err)
			}
			return
		}
		if len(q.Ops)+len(rejected) > wire.MaxOps {
			t.Fatalf("%d changes let through", len(q.Ops)+len(rejected))
		}
		for _, op := range q.Ops {
			if err := op.Check(); err != nil {
				t.Fatalf("let through: %v", err)
			}
		}
	})
}
