package server

import (
	"encoding/json"
	"net/http"

	"torchside/storage/answer"
	"torchside/storage/wire"
)

// shopOf is the caller's shop. It comes from the token alone, so no request can name another's.
func (s *Server) shopOf(who caller) answer.Shop {
	return answer.Shop{Vault: s.vault, ID: who.device.Shop, Now: s.now}
}

// sync takes what a device sends and gives it what it lacks.
func (s *Server) sync(w http.ResponseWriter, r *http.Request, who caller, _ []string) error {
	body, err := readBody(w, r, typeJSON, wire.MaxRequest)
	if err != nil {
		return err
	}
	q, rejected, err := wire.ReadSyncRequest(body)
	if err != nil {
		return err
	}
	reply, err := s.shopOf(who).Sync(r.Context(), q)
	if err != nil {
		return err
	}
	if !reply.Mismatch {
		reply.Acks = wire.MergeAcks(reply.Acks, rejected)
	}
	s.count(reply)
	text, err := replyText(reply)
	if err != nil {
		return err
	}
	return writeBytes(w, r, http.StatusOK, typeJSON, text)
}

// replyText writes a reply as JSON. The ops are copied as they lie in the vault: to have them
// looked through once more by the encoder would be most of the work of a pull.
func replyText(reply wire.SyncReply) ([]byte, error) {
	ops := reply.Ops
	reply.Ops = nil
	head, err := json.Marshal(reply)
	if err != nil || len(ops) == 0 {
		return head, err
	}
	size := len(head) + len(`,"ops":[]`)
	for _, op := range ops {
		size += len(op) + 1
	}
	text := append(make([]byte, 0, size), head[:len(head)-1]...)
	text = append(text, `,"ops":[`...)
	for i, op := range ops {
		if i > 0 {
			text = append(text, ',')
		}
		text = append(text, op...)
	}
	return append(text, "]}"...), nil
}

// count notes what the exchange did.
func (s *Server) count(reply wire.SyncReply) {
	results := map[wire.Status]int{}
	for _, a := range reply.Acks {
		results[a.Status]++
	}
	for status, n := range results {
		s.metrics.add("op", string(status), n)
	}
	s.metrics.add("op", "sent", len(reply.Ops))
	if reply.Mismatch {
		s.metrics.add("sync", "mismatch", 1)
	}
}
