package replicate

import (
	"errors"
	"fmt"
	"strings"

	"torchside/storage"
	"torchside/storage/wire"
)

// namesPage is how many names of attachments are read at a time.
const namesPage = 200

// partial is the beginning of an attachment, kept over runs.
type partial struct {
	name storage.Hash
	data []byte
}

// photos moves attachments both ways: first those the vault does not have, as
// there they are safe from the loss of the device. Without leave it only
// counts them.
func (r *run) photos(leave bool) error {
	out, err := r.outgoing()
	if err != nil {
		return err
	}
	in, err := r.incoming()
	if err != nil {
		return err
	}
	if r.AllPhotos = len(out) + len(in); !leave {
		r.Left = r.AllPhotos
		return nil
	}
	if err := r.each(out, r.send); err != nil {
		return err
	}
	return r.each(in, r.fetch)
}

// incoming names what others have and is not here. A full device asks for none.
func (r *run) incoming() ([]storage.Hash, error) {
	if r.full != nil {
		return nil, nil
	}
	in, err := pages(func(after storage.Hash) ([]storage.Hash, error) { return r.local.WantedBlobs(r.ctx, after, namesPage) })
	return in, r.room(err)
}

// errGone is what moving an attachment ends in that the vault let go of for good.
var errGone = errors.New("gone for good")

// letGo notes that an attachment the vault let go of need not be asked for.
// Only a checkpoint of the same log vouches for that: should an older state of
// the vault be put back, the checkpoint is none of it, and this is forgotten with it.
func (r *run) letGo(h storage.Hash, tag string) error {
	at, err := r.place()
	if err == nil && strings.HasSuffix(at.Chain, "."+tag) {
		err = r.room(r.local.BlobsGone(r.ctx, h))
	}
	if err != nil {
		return err
	}
	return errGone
}

// noLonger notes that an attachment held here need not be sent. Should it be wanted again, the vault says so.
func (r *run) noLonger(h storage.Hash) error {
	if err := r.room(r.local.BlobsSent(r.ctx, h)); err != nil {
		return err
	}
	return errGone
}

// each moves attachments one by one. One that is not moved now is counted and left for the next run; the others still go.
func (r *run) each(names []storage.Hash, move func(storage.Hash) (bool, error)) error {
	for _, h := range names {
		moved, err := move(h)
		switch {
		case errors.Is(err, errGone):
			r.Gone++
			r.AllPhotos--
		case err != nil:
			return fmt.Errorf("%.8s: %w", h, err)
		case moved:
			r.Photos++
		default:
			r.Later++
		}
		r.tell()
	}
	return nil
}

// outgoing names what the vault may lack: what it was not seen to have, and
// what it says it wants although it was, as after it was put back.
func (r *run) outgoing() ([]storage.Hash, error) {
	out, err := pages(func(after storage.Hash) ([]storage.Hash, error) { return r.local.UnsentBlobs(r.ctx, after, namesPage) })
	if err = r.room(err); err != nil {
		return nil, err
	}
	known := make(map[storage.Hash]bool, len(out))
	for _, h := range out {
		known[h] = true
	}
	wants, err := r.wanted()
	if err != nil {
		return nil, err
	}
	missing, err := r.local.MissingBlobs(r.ctx, wants...)
	if err != nil {
		return nil, err
	}
	for _, h := range missing {
		known[h] = true
	}
	for _, h := range wants {
		if !known[h] {
			out = append(out, h)
		}
	}
	return out, nil
}

// wanted asks for all the attachments the vault lacks.
func (r *run) wanted() ([]storage.Hash, error) {
	all, more := r.wants, r.more
	for more && len(all) > 0 {
		since, err := r.place()
		if err != nil {
			return nil, err
		}
		reply, err := r.peer.Sync(r.ctx, wire.SyncRequest{Dev: r.opts.Dev, Since: since, WantAfter: all[len(all)-1]})
		if err != nil {
			return nil, err
		}
		more = reply.WantMore && len(reply.Want) > 0 && reply.Want[0] > all[len(all)-1]
		all = append(all, reply.Want...)
	}
	return all, nil
}

// pages collects names until there are no more.
func pages(next func(after storage.Hash) ([]storage.Hash, error)) ([]storage.Hash, error) {
	var all []storage.Hash
	for after := storage.Hash(""); ; {
		page, err := next(after)
		if err != nil || len(page) == 0 {
			return all, err
		}
		all, after = append(all, page...), page[len(page)-1]
	}
}

// attempts is how often a transfer may find the other side elsewhere than it
// was told, before it is left for the next run.
const attempts = 3

// send brings one attachment to the vault and notes that it is there; it reports whether it is. One that no op of the vault names
// stays unsent: its op was refused. So does one that is gone here.
func (r *run) send(h storage.Hash) (bool, error) {
	data, err := r.local.Blob(r.ctx, h)
	switch {
	case errors.Is(err, storage.ErrCorrupt):
		r.Damaged++
		return false, nil
	case errors.Is(err, storage.ErrNotFound):
		return false, nil
	case err != nil:
		return false, err
	}
	for range attempts {
		if err = r.sendRest(h, data); err == nil {
			return true, r.room(r.local.BlobsSent(r.ctx, h))
		}
		switch code(err) {
		case wire.CodeNotFound:
			if goneTag(err) != "" {
				return false, r.noLonger(h)
			}
			return false, nil
		case wire.CodeOffset, wire.CodeBadHash:
		default:
			return false, err
		}
	}
	return false, nil // another device sends it too, or the line changes bytes: it stays unsent for the next run
}

// sendRest asks what the vault has and sends what follows.
func (r *run) sendRest(h storage.Hash, data []byte) error {
	state, err := r.peer.BlobState(r.ctx, h)
	if err != nil || state.Complete {
		return err
	}
	at := int(state.Have)
	if at >= len(data) {
		at = 0 // what is there cannot be this content: begin anew
	}
	for at < len(data) {
		end := min(at+wire.MaxPiece, len(data))
		if err := r.peer.PutPiece(r.ctx, h, int64(at), data[at:end], end == len(data)); err != nil {
			return err
		}
		at = end
	}
	return nil
}

// fetch brings one attachment from the vault, if it has it by now and there is room for it, and reports whether it is here.
func (r *run) fetch(h storage.Hash) (bool, error) {
	if r.full != nil {
		return false, nil
	}
	for range attempts {
		data, err := r.fetchAll(h)
		if tag := goneTag(err); tag != "" {
			return false, r.letGo(h, tag)
		}
		if code(err) == wire.CodeNotFound {
			return false, nil
		}
		if err != nil {
			return false, err
		}
		r.got = partial{}
		if storage.HashOf(data) != h {
			continue
		}
		if _, err := r.local.PutBlob(r.ctx, data); err != nil {
			return false, r.room(err)
		}
		return true, r.room(r.local.BlobsSent(r.ctx, h))
	}
	r.Damaged++
	return false, nil
}

// fetchAll goes on where an earlier run was cut off.
func (r *run) fetchAll(h storage.Hash) ([]byte, error) {
	if r.got.name != h {
		r.got = partial{name: h}
	}
	for {
		piece, err := r.peer.GetPiece(r.ctx, h, int64(len(r.got.data)))
		if err != nil {
			return nil, err
		}
		r.got.data = append(r.got.data, piece.Data...)
		if len(piece.Data) == 0 || int64(len(r.got.data)) >= piece.Size || len(r.got.data) > storage.MaxBlob {
			return r.got.data, nil
		}
	}
}

// goneTag is what the vault says of an attachment it let go of, "" of any other error.
func goneTag(err error) string {
	if answer := (*wire.Error)(nil); errors.As(err, &answer) {
		return answer.Gone
	}
	return ""
}

// code returns the code of what the vault answered, "" for any other error.
func code(err error) wire.Code {
	if answer := (*wire.Error)(nil); errors.As(err, &answer) {
		return answer.Code
	}
	return ""
}
