package memvault

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"slices"

	"torchside/storage"
	"torchside/storage/vault"
)

// Want implements vault.Vault.
func (v *Vault) Want(ctx context.Context, shop vault.ShopID, limit int) (names []storage.Hash, err error) {
	if limit < 1 {
		return nil, fmt.Errorf("%w: limit of %d attachments", storage.ErrInvalid, limit)
	}
	err = v.read(ctx, func(s *state) error {
		l, err := s.log(shop)
		if err != nil {
			return err
		}
		for h := range l.wanted {
			names = append(names, h)
		}
		slices.Sort(names)
		names = names[:min(limit, len(names))]
		return nil
	})
	return names, err
}

// BlobOffset implements vault.Vault.
func (v *Vault) BlobOffset(ctx context.Context, shop vault.ShopID, h storage.Hash) (have int64, complete bool, err error) {
	if err := vault.CheckHash(h); err != nil {
		return 0, false, err
	}
	err = v.read(ctx, func(s *state) error {
		l, err := s.log(shop)
		if err != nil {
			return err
		}
		have, complete = l.offset(h)
		return l.goneError(h)
	})
	return have, complete, err
}

func (l *log) offset(h storage.Hash) (have int64, complete bool) {
	if data, ok := l.blobs[h]; ok {
		return int64(len(data)), true
	}
	return int64(len(l.partial[h])), false
}

// WriteBlob implements vault.Vault.
func (v *Vault) WriteBlob(ctx context.Context, shop vault.ShopID, h storage.Hash, offset int64, data []byte, last bool) error {
	if err := vault.CheckPiece(h, offset, data); err != nil {
		return err
	}
	wrong := false
	err := v.write(ctx, func(s *state) (func(), error) {
		l, err := s.log(shop)
		if err != nil {
			return nil, err
		}
		have, complete := l.offset(h)
		switch {
		case complete || offset != have && offset != 0:
			return nil, &vault.OffsetError{Have: have, Complete: complete}
		case l.gone[h]:
			return nil, l.goneError(h)
		case !l.wanted[h]:
			return nil, fmt.Errorf("attachment %s: %w", h, vault.ErrNotWanted)
		}
		whole := slices.Concat(l.partial[h][:offset], data)
		wrong = last && storage.HashOf(whole) != h
		return func() { l.piece(h, whole, last) }, nil
	})
	if err == nil && wrong {
		return fmt.Errorf("attachment %s: %w", h, vault.ErrHash)
	}
	return err
}

// piece keeps what is there of an attachment now.
func (l *log) piece(h storage.Hash, whole []byte, last bool) {
	delete(l.partial, h)
	switch {
	case !last:
		l.partial[h] = whole
	case storage.HashOf(whole) == h:
		l.blobs[h] = whole
		delete(l.wanted, h)
	}
}

// OpenBlob implements vault.Vault.
func (v *Vault) OpenBlob(ctx context.Context, shop vault.ShopID, h storage.Hash) (blob vault.Blob, size int64, err error) {
	if err := vault.CheckHash(h); err != nil {
		return nil, 0, err
	}
	err = v.read(ctx, func(s *state) error {
		l, err := s.log(shop)
		if err != nil {
			return err
		}
		data, ok := l.blobs[h]
		if l.gone[h] {
			return l.goneError(h)
		}
		if !ok {
			return fmt.Errorf("attachment %s: %w", h, vault.ErrNoBlob)
		}
		blob, size = content{bytes.NewReader(data)}, int64(len(data))
		return nil
	})
	return blob, size, err
}

// content is an attachment being read.
type content struct{ io.ReadSeeker }

// Close implements io.Closer: memory needs none.
func (content) Close() error { return nil }
