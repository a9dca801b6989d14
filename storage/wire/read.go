package wire

import (
	"bytes"
	"encoding/json"
	"fmt"

	"torchside/storage"
)

// rawRequest is a SyncRequest whose ops are still text, so that one which
// cannot be read does not hide the others. Fields it does not know are those of
// a newer device and are passed over; those of an op are not, as the op would
// be stored without them.
type rawRequest struct {
	Dev       storage.ID         `json:"dev"`
	Since     storage.Checkpoint `json:"since"`
	Ops       []json.RawMessage  `json:"ops"`
	WantAfter storage.Hash       `json:"wantAfter"`
}

// ReadSyncRequest reads a request from a stranger. Ops that break a rule are
// left out of the request; rejected holds their acks by their place among the
// ops sent. The error, if any, is an *Error: CodeMalformed or CodeTooLarge.
func ReadSyncRequest(data []byte) (req SyncRequest, rejected map[int]Ack, err error) {
	var raw rawRequest
	if err := readOne(data, &raw); err != nil {
		return req, nil, err
	}
	if err := raw.Dev.Check(); err != nil {
		return req, nil, Errorf(CodeMalformed, "the device: %v", err)
	}
	if len(raw.Ops) > MaxOps {
		return req, nil, Errorf(CodeTooLarge, "%d changes in one request, at most %d", len(raw.Ops), MaxOps)
	}
	if n := total(raw.Ops); n > MaxBytes && len(raw.Ops) > 1 {
		return req, nil, Errorf(CodeTooLarge, "changes of %d bytes in one request, at most %d or one change alone", n, MaxBytes)
	}
	req = SyncRequest{Dev: raw.Dev, Since: raw.Since, WantAfter: raw.WantAfter}
	rejected = make(map[int]Ack)
	for i, text := range raw.Ops {
		op, err := readOp(text)
		if err != nil {
			rejected[i] = Ack{Op: idOf(text), Status: Rejected, Reason: err.Error()}
			continue
		}
		req.Ops = append(req.Ops, op)
	}
	return req, rejected, nil
}

// total is the size of some ops.
func total(ops []json.RawMessage) int {
	n := 0
	for _, text := range ops {
		n += len(text)
	}
	return n
}

// readOne reads exactly one JSON value.
func readOne(data []byte, into any) error {
	if len(data) > MaxRequest {
		return Errorf(CodeTooLarge, "a message of %d bytes, at most %d", len(data), MaxRequest)
	}
	if err := json.Unmarshal(data, into); err != nil {
		return Errorf(CodeMalformed, "not the one JSON value expected: %v", err)
	}
	return nil
}

func readOp(text []byte) (storage.Op, error) {
	var op storage.Op
	if err := op.UnmarshalJSON(text); err != nil {
		return op, err
	}
	return op, op.Check()
}

// idFirst begins every op as it is stored.
const idFirst = `{"op":"`

// OpID finds the id in an op in its stored form without reading the rest, ""
// if there is none.
func OpID(text []byte) storage.ID {
	if rest, ok := bytes.CutPrefix(text, []byte(idFirst)); ok && len(rest) > idLength && rest[idLength] == '"' {
		return storage.ID(rest[:idLength])
	}
	return idOf(text)
}

// idLength is the length of an id as text.
const idLength = 36

// idOf finds the id in an op that may be damaged, if there is one.
func idOf(text []byte) storage.ID {
	var named struct {
		Op storage.ID `json:"op"`
	}
	if json.Unmarshal(text, &named) != nil || named.Op.Check() != nil {
		return ""
	}
	return named.Op
}

// MergeAcks puts the acks of the ops that were read and those of the ops that
// were not back into the order they were sent in.
func MergeAcks(read []Ack, rejected map[int]Ack) []Ack {
	acks := make([]Ack, 0, len(read)+len(rejected))
	for i := range len(read) + len(rejected) {
		if bad, ok := rejected[i]; ok {
			acks = append(acks, bad)
			continue
		}
		if len(read) > 0 {
			acks, read = append(acks, read[0]), read[1:]
		}
	}
	return acks
}

// ReadOps reads the ops of a reply. storage.ErrCorrupt or ErrInvalid, wrapped:
// one of them is none for this build; the vault may be newer.
func (r SyncReply) ReadOps() ([]storage.Op, error) {
	ops := make([]storage.Op, 0, len(r.Ops))
	for _, text := range r.Ops {
		op, err := readOp(text)
		if err != nil {
			return nil, fmt.Errorf("change %s sent by the vault: %w", idOf(text), err)
		}
		ops = append(ops, op)
	}
	return ops, nil
}
