package server

import (
	"context"
	"errors"
	"net"
	"net/http"
	"strings"

	"torchside/storage/vault"
	"torchside/storage/wire"
)

// caller is who asks. The zero caller is a stranger.
type caller struct{ device vault.Device }

// admit decides whether a request may be answered, before any of its body is read.
func (s *Server) admit(r *http.Request, rt *route) (caller, error) {
	if err := s.origins.Check(r); err != nil {
		return caller{}, refuse(wire.CodeCrossOrigin, "A page of another site may not ask this server.",
			"Open the app at this server's own address.").because(err)
	}
	if rt.open {
		return caller{}, s.pace(s.strange, network(address(r)))
	}
	device, err := s.deviceOf(r)
	if err != nil {
		if slow := s.pace(s.strange, network(address(r))); slow != nil {
			return caller{}, slow
		}
		return caller{}, err
	}
	if err := s.pace(s.devices, string(device.ID)); err != nil {
		return caller{device}, err
	}
	s.touch(r.Context(), device)
	return caller{device}, nil
}

func (s *Server) pace(l *limiter, key string) error {
	if wait := l.take(key, s.now()); wait > 0 {
		return busy(wait)
	}
	return nil
}

// deviceOf finds the device by its token. The vault is asked each time: a device put out is out
// with its next request. Only hashes are compared, so how long it takes tells nothing of a token.
func (s *Server) deviceOf(r *http.Request) (vault.Device, error) {
	token, ok := strings.CutPrefix(r.Header.Get("Authorization"), "Bearer ")
	hash, well := hashToken(token)
	if !ok || !well {
		return vault.Device{}, unauthorized()
	}
	device, err := s.vault.DeviceByToken(r.Context(), hash)
	switch {
	case errors.Is(err, vault.ErrRevoked):
		return vault.Device{}, refuse(wire.CodeRevoked, "This device was put out of the shop.",
			"Everything on it stays. To let it in again, pair it with a new code.")
	case errors.Is(err, vault.ErrNoDevice):
		return vault.Device{}, unauthorized()
	}
	return device, err
}

func unauthorized() *problem {
	return refuse(wire.CodeUnauthorized, "This device is not known to the server.",
		"Everything on it stays. Pair it with a code from another device or from the server.")
}

// touch notes that the device was here. The request goes on when that fails: it is a nicety.
func (s *Server) touch(ctx context.Context, d vault.Device) {
	now := s.now()
	if now.Sub(d.Seen).Abs() < vault.TouchEvery {
		return
	}
	if err := s.vault.TouchDevice(ctx, d.Shop, d.ID, now); err != nil {
		s.log.WarnContext(ctx, "the visit of a device was not noted", "device", d.ID, "cause", err.Error())
	}
}

// address is where a request comes from, without the port.
func address(r *http.Request) string {
	host, _, err := net.SplitHostPort(r.RemoteAddr)
	if err != nil {
		return r.RemoteAddr
	}
	return host
}
