//go:build !js

package remote

import (
	"bytes"
	"context"
	"io"
	"net/http"
)

// newSender gives the medium of a program outside the browser.
func newSender() sender {
	return httpSender{&http.Client{
		CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }, // a token goes nowhere else
	}}
}

type httpSender struct{ client *http.Client }

func (s httpSender) do(ctx context.Context, m message) (reply, error) {
	ctx, watched := newWatch(ctx, m.patience())
	defer watched.stop()
	a, err := s.exchange(ctx, m, watched)
	return a, failure(ctx, err)
}

func (s httpSender) exchange(ctx context.Context, m message, watched *watch) (reply, error) {
	r, err := http.NewRequestWithContext(ctx, m.method, m.url, bytes.NewReader(m.body))
	if err != nil {
		return reply{}, err
	}
	if m.token != "" {
		r.Header.Set("Authorization", "Bearer "+m.token)
	}
	if m.contentType != "" {
		r.Header.Set("Content-Type", m.contentType)
	}
	if m.zipped {
		r.Header.Set("Content-Encoding", "gzip")
	}
	resp, err := s.client.Do(r)
	if err != nil {
		return reply{}, err
	}
	defer resp.Body.Close()
	var body bytes.Buffer
	_, err = body.ReadFrom(io.LimitReader(moving{resp.Body, watched}, maxReply+1))
	if err == nil && body.Len() > maxReply {
		err = errTooLong
	}
	return reply{resp.StatusCode, resp.Header.Get, body.Bytes()}, err
}

// moving tells a watch of each read.
type moving struct {
	io.Reader
	watched *watch
}

// Read reads on.
func (m moving) Read(p []byte) (int, error) {
	n, err := m.Reader.Read(p)
	m.watched.progress()
	return n, err
}
