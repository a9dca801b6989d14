package memory

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"time"

	"torchside/storage"
)

// blob is an attachment and when it was last put.
type blob struct {
	data []byte
	put  time.Time
}

// PutBlob implements storage.Store.
func (s *Store) PutBlob(ctx context.Context, data []byte) (storage.Hash, error) {
	if err := storage.CheckBlob(data); err != nil {
		return "", err
	}
	if err := s.enter(ctx); err != nil {
		return "", err
	}
	defer s.disk.mu.Unlock()
	name := storage.HashOf(data)
	s.disk.blobs[name] = blob{data: bytes.Clone(data), put: time.Now()}
	return name, nil
}

// Blob implements storage.Store.
func (s *Store) Blob(ctx context.Context, h storage.Hash) ([]byte, error) {
	if err := s.enter(ctx); err != nil {
		return nil, err
	}
	defer s.disk.mu.Unlock()
	b, ok := s.disk.blobs[h]
	if !ok {
		return nil, fmt.Errorf("attachment %s: %w", h, storage.ErrNotFound)
	}
	return bytes.Clone(b.data), nil
}

// Blobs implements storage.Store.
func (s *Store) Blobs(ctx context.Context, after storage.Hash, limit int) ([]storage.BlobInfo, error) {
	if limit < 1 {
		return nil, fmt.Errorf("%w: limit of %d attachments", storage.ErrInvalid, limit)
	}
	if err := s.enter(ctx); err != nil {
		return nil, err
	}
	defer s.disk.mu.Unlock()
	var page []storage.BlobInfo
	for _, name := range sortedAfter(s.disk.blobs, after) {
		if len(page) == limit {
			break
		}
		b := s.disk.blobs[name]
		page = append(page, storage.BlobInfo{Hash: name, Size: len(b.data), Put: b.put})
	}
	return page, nil
}

// MissingBlobs implements storage.Store.
func (s *Store) MissingBlobs(ctx context.Context, names ...storage.Hash) ([]storage.Hash, error) {
	if err := s.enter(ctx); err != nil {
		return nil, err
	}
	defer s.disk.mu.Unlock()
	var missing []storage.Hash
	for _, name := range names {
		if _, ok := s.disk.blobs[name]; !ok {
			missing = append(missing, name)
		}
	}
	return missing, nil
}

// DropOrphans implements storage.Store.
func (s *Store) DropOrphans(ctx context.Context, now time.Time, keep ...storage.Hash) ([]storage.Hash, error) {
	if err := s.enter(ctx); err != nil {
		return nil, err
	}
	defer s.disk.mu.Unlock()
	var dropped []storage.Hash
	for _, name := range sortedAfter(s.disk.blobs, "") {
		old := now.Sub(s.disk.blobs[name].put) > storage.OrphanAge
		if old && s.disk.uses[name] == 0 && !slices.Contains(keep, name) {
			delete(s.disk.blobs, name)
			delete(s.disk.sent, name)
			dropped = append(dropped, name)
		}
	}
	return dropped, nil
}
