package simtest

import (
	"context"

	"torchside/storage"
)

// guard is a phone's store: before and after every write the phone may crash,
// and nothing is written when it is full.
type guard struct {
	storage.Replica
	p    *phone
	life int
}

// write runs one write between its two points.
func (g *guard) write(f func() error) error {
	g.p.step(g.life, false)
	if g.p.full {
		return storage.ErrFull
	}
	err := f()
	g.p.step(g.life, true)
	return err
}

// Commit implements storage.Store.
func (g *guard) Commit(ctx context.Context, stamp storage.Stamp) (records []storage.Record, err error) {
	err = g.write(func() error { records, err = g.Replica.Commit(ctx, stamp); return err })
	return records, err
}

// Append implements storage.Store.
func (g *guard) Append(ctx context.Context, ops ...storage.Op) (done storage.Appended, err error) {
	err = g.write(func() error { done, err = g.Replica.Append(ctx, ops...); return err })
	return done, err
}

// PutBlob implements storage.Store.
func (g *guard) PutBlob(ctx context.Context, data []byte) (h storage.Hash, err error) {
	err = g.write(func() error { h, err = g.Replica.PutBlob(ctx, data); return err })
	return h, err
}

// Pulled implements storage.Replica.
func (g *guard) Pulled(ctx context.Context, next storage.Checkpoint, ops ...storage.Op) (done storage.Appended, err error) {
	err = g.write(func() error { done, err = g.Replica.Pulled(ctx, next, ops...); return err })
	return done, err
}

// Sent implements storage.Replica.
func (g *guard) Sent(ctx context.Context, ids ...storage.ID) error {
	return g.write(func() error { return g.Replica.Sent(ctx, ids...) })
}

// Refuse implements storage.Replica.
func (g *guard) Refuse(ctx context.Context, refused ...storage.Refusal) error {
	return g.write(func() error { return g.Replica.Refuse(ctx, refused...) })
}

// Requeue implements storage.Replica.
func (g *guard) Requeue(ctx context.Context) error {
	return g.write(func() error { return g.Replica.Requeue(ctx) })
}

// BlobsSent implements storage.Replica.
func (g *guard) BlobsSent(ctx context.Context, names ...storage.Hash) error {
	return g.write(func() error { return g.Replica.BlobsSent(ctx, names...) })
}

// BlobsGone implements storage.Replica.
func (g *guard) BlobsGone(ctx context.Context, names ...storage.Hash) error {
	return g.write(func() error { return g.Replica.BlobsGone(ctx, names...) })
}

// Forget implements storage.Replica.
func (g *guard) Forget(ctx context.Context, ids ...storage.ID) error {
	return g.write(func() error { return g.Replica.Forget(ctx, ids...) })
}
