package effects

import (
	"context"
	"errors"

	"torchside/pwa/state"
	"torchside/storage"
)

// Photographer is a Browser that can prepare photos: the orientation applied, what the camera wrote beside the picture left out, made
// smaller, with a thumbnail. It takes its time, so it is never called by the queue: saving goes on meanwhile.
type Photographer interface {
	// Next prepares the next file the page holds under a number, in the order chosen, and lets go of it; plain takes it as it is.
	// ok is false after the last one.
	Next(ctx context.Context, source int, plain bool) (p Prepared, ok bool, err error)
}

// Prepared is one file made ready to be stored.
type Prepared struct {
	Name        string
	Full, Thumb []byte // Thumb is empty for a file that cannot be shown
	W, H        int
	Type        string // media type of Full
	Why         string // why it is not taken; Full is then empty
	Offer       int    // number under which the page keeps it, to be attached as it is; 0 when that is not possible
}

// Shower is a Browser that shows photos by their name.
type Shower interface {
	// ShowBlobs hands over what reads the bytes of a name. The reader returns at once and calls back when it has them, with nothing
	// when they are not here. It returns what ends it.
	ShowBlobs(read func(name string, got func([]byte))) (end func())
}

// errNoPhotos is said where the page's script is missing.
const errNoPhotos = "this browser cannot prepare photos"

// photos prepares and stores the files of one choice, one after the other, so that one alone is in memory: one that finds no room
// does not keep the others back. PhotosPut is posted whatever happens, because the sheet waits for it.
func (r *Runner) photos(ctx context.Context, e state.PutPhotos) {
	defer r.post(state.PhotosPut{Key: e.Key})
	refuse := func(m state.PhotoRefused) { m.Key, m.Role = e.Key, e.Role; r.post(m) }
	camera, ok := r.ports.Browser.(Photographer)
	if !ok {
		refuse(state.PhotoRefused{Why: errNoPhotos})
		return
	}
	r.darkroom.Lock() // a second choice waits for the first
	defer r.darkroom.Unlock()
	for {
		p, ok, err := camera.Next(ctx, e.Source, e.Plain)
		switch {
		case err != nil:
			refuse(state.PhotoRefused{Why: err.Error()})
			return
		case !ok:
			return
		case p.Why != "":
			refuse(state.PhotoRefused{Name: p.Name, Why: p.Why, Offer: p.Offer})
		default:
			r.inQueue(ctx, func(ctx context.Context) { r.photo(ctx, e, p) })
		}
	}
}

// photo stores one file and says so.
func (r *Runner) photo(ctx context.Context, e state.PutPhotos, p Prepared) {
	put := state.PhotoStored{Key: e.Key, Role: e.Role, Name: p.Name, Type: p.Type, W: p.W, H: p.H, Bytes: len(p.Full), Err: errFault}
	defer func() { r.post(put) }() // a fault of our own is an answer too
	put.Hash, put.Err = r.putBlob(ctx, p.Full)
	if put.Err == nil && len(p.Thumb) > 0 {
		put.ThumbHash, put.Err = r.putBlob(ctx, p.Thumb)
	}
}

// inQueue has a job done in turn with the others and waits for its end.
func (r *Runner) inQueue(ctx context.Context, job func(context.Context)) {
	done := make(chan struct{})
	r.queue(func(ctx context.Context) {
		defer close(done)
		job(ctx)
	})
	select {
	case <-done:
	case <-ctx.Done():
	}
}

// putBlob stores an attachment; a store closed under us is opened once more.
func (r *Runner) putBlob(ctx context.Context, data []byte) (storage.Hash, error) {
	put := func(ctx context.Context, s storage.Store) (storage.Hash, error) { return s.PutBlob(ctx, data) }
	h, err := try(ctx, r, put)
	if errors.Is(err, storage.ErrClosed) {
		h, err = try(ctx, r, put)
	}
	return h, err
}

// showBlobs lets the page read photos by their name until ctx ends.
func (r *Runner) showBlobs(ctx context.Context) {
	s, ok := r.ports.Browser.(Shower)
	if !ok {
		return
	}
	end := s.ShowBlobs(func(name string, got func([]byte)) {
		r.queue(func(ctx context.Context) {
			var data []byte
			defer func() { got(data) }()
			read := func(ctx context.Context, s storage.Store) ([]byte, error) { return s.Blob(ctx, name) }
			b, err := try(ctx, r, read)
			if errors.Is(err, storage.ErrClosed) {
				b, err = try(ctx, r, read)
			}
			if err == nil {
				data = b
			}
		})
	})
	context.AfterFunc(ctx, end)
}
