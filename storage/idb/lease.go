//go:build js

package idb

import (
	"context"
	"encoding/json"
	"syscall/js"
	"time"
)

// lease is the row that tells which window is at work, as JSON.
type lease struct {
	Holder string `json:"holder"`
	Until  int64  `json:"until"` // Unix time in ms
}

// TakeLease implements replicate.Lease. A row that cannot be read is nobody's.
func (s *Store) TakeLease(ctx context.Context, holder string, now time.Time, length time.Duration) (bool, error) {
	mine := false
	err := s.run(ctx, true, []any{metaStore}, func(t *tx) {
		t.readLease(func(l lease) {
			left := l.Until - now.UnixMilli()
			if mine = l.Holder == holder || left <= 0 || left > length.Milliseconds(); !mine {
				return
			}
			text, err := json.Marshal(lease{holder, now.Add(length).UnixMilli()})
			if err != nil {
				t.abort(err)
				return
			}
			t.store(metaStore).Call("put", string(text), leaseKey)
		})
	})
	return mine && err == nil, err
}

// DropLease implements replicate.Lease.
func (s *Store) DropLease(ctx context.Context, holder string) error {
	return s.run(ctx, true, []any{metaStore}, func(t *tx) {
		t.readLease(func(l lease) {
			if l.Holder == holder {
				t.store(metaStore).Call("delete", leaseKey)
			}
		})
	})
}

func (t *tx) readLease(step func(lease)) {
	t.then(t.store(metaStore).Call("get", leaseKey), func(row js.Value) {
		var l lease
		if row.Type() != js.TypeString || json.Unmarshal([]byte(row.String()), &l) != nil {
			l = lease{}
		}
		step(l)
	})
}
