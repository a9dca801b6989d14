package effects

import (
	"context"
	"errors"
	"time"

	"torchside/pwa/state"
	"torchside/storage"
)

// storing queues what asks the store for more than it loads.
func (r *Runner) storing(e state.Effect) {
	switch e := e.(type) {
	case state.FindRecords:
		ask(r, func(ctx context.Context, s storage.Store) (storage.Page, error) { return s.Find(ctx, e.Find) },
			func(p storage.Page, err error) state.Msg {
				return state.RecordsFound{Token: e.Token, Asked: e.Find, Page: p, Err: err}
			})
	case state.CountTerms:
		ask(r, func(ctx context.Context, s storage.Store) (map[string][]storage.TermCount, error) {
			return countTerms(ctx, s, e)
		},
			func(t map[string][]storage.TermCount, err error) state.Msg {
				return state.TermsCounted{Token: e.Token, Kind: e.Kind, Terms: t, Err: err}
			})
	case state.ReadRecord:
		ask(r, func(ctx context.Context, s storage.Store) (storage.Record, error) { return s.Get(ctx, e.ID) },
			func(rec storage.Record, err error) state.Msg {
				return state.RecordRead{Token: e.Token, ID: e.ID, Record: rec, Err: err}
			})
	case state.PutBlob:
		ask(r, func(ctx context.Context, s storage.Store) (storage.Hash, error) { return s.PutBlob(ctx, e.Data) },
			func(h storage.Hash, err error) state.Msg {
				return state.BlobStored{Token: e.Token, Hash: h, Size: len(e.Data), Err: err}
			})
	case state.ReadBlob:
		ask(r, func(ctx context.Context, s storage.Store) ([]byte, error) { return s.Blob(ctx, e.Hash) },
			func(data []byte, err error) state.Msg {
				return state.BlobRead{Token: e.Token, Hash: e.Hash, Data: data, Err: err}
			})
	case state.DropOrphans:
		r.queue(func(ctx context.Context) {
			if s, err := r.open(ctx); err == nil {
				_, err = s.DropOrphans(ctx, time.Now(), e.Keep...)
				r.dropped(err)
			}
		})
	default:
		r.handing(e)
	}
}

func countTerms(ctx context.Context, s storage.Store, e state.CountTerms) (map[string][]storage.TermCount, error) {
	all := make(map[string][]storage.TermCount, len(e.Prefixes))
	for _, prefix := range e.Prefixes {
		list, err := s.Terms(ctx, e.Kind, prefix)
		if err != nil {
			return nil, err
		}
		all[prefix] = list
	}
	return all, nil
}

// ask queues a question and answers it exactly once. A store closed under us is opened once more; a fault of our own is an
// answer too, or its page would wait for ever.
func ask[T any](r *Runner, question func(context.Context, storage.Store) (T, error), answer func(T, error) state.Msg) {
	r.queue(func(ctx context.Context) {
		var got T
		err := errFault
		defer func() { r.post(answer(got, err)) }()
		got, err = try(ctx, r, question)
		if errors.Is(err, storage.ErrClosed) {
			got, err = try(ctx, r, question)
		}
	})
}

func try[T any](ctx context.Context, r *Runner, question func(context.Context, storage.Store) (T, error)) (T, error) {
	s, err := r.open(ctx)
	if err != nil {
		var none T
		return none, err
	}
	got, err := question(ctx, s)
	r.dropped(err)
	return got, err
}
