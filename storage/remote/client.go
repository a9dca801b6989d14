package remote

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"torchside/storage"
	"torchside/storage/replicate"
	"torchside/storage/wire"
)

// Client speaks for one device. It may be used by any number of goroutines at once.
type Client struct {
	base  string // the server's origin, as "https://host:port"; "" in a browser for the page's own
	token string
	send  sender
}

var _ replicate.Peer = (*Client)(nil)

// New makes the client of a device with a token. base is the server's origin; in a browser "" is the
// one the page came from.
func New(base, token string) *Client { return &Client{base: base, token: token, send: newSender()} }

// Pair joins a shop with a code and a name for this device. wire.CodeWrongCode: no such code.
// wire.CodeLocked: too many wrong ones. wire.CodeMalformed: not a code, or not a name.
func Pair(ctx context.Context, base, code, name string) (wire.PairReply, error) {
	var reply wire.PairReply
	err := New(base, "").call(ctx, "POST", wire.PathPair, wire.PairRequest{Code: code, Name: name}, &reply)
	return reply, err
}

// Sync is one exchange; see replicate.Peer.
func (c *Client) Sync(ctx context.Context, q wire.SyncRequest) (wire.SyncReply, error) {
	var reply wire.SyncReply
	err := c.call(ctx, "POST", wire.PathSync, q, &reply)
	return reply, err
}

// BlobState tells how much of an attachment the vault has.
func (c *Client) BlobState(ctx context.Context, h storage.Hash) (wire.BlobState, error) {
	var state wire.BlobState
	err := c.call(ctx, "GET", wire.StatePath(h), nil, &state)
	return state, err
}

// PutPiece adds a piece of an attachment.
func (c *Client) PutPiece(ctx context.Context, h storage.Hash, offset int64, data []byte, last bool) error {
	path := wire.BlobPath(h) + "?offset=" + strconv.FormatInt(offset, 10) + "&last=" + strconv.FormatBool(last)
	_, err := c.roundTrip(ctx, message{method: "PUT", path: path, contentType: typeBytes, body: data}, typeJSON)
	return err
}

// GetPiece reads a piece of an attachment.
func (c *Client) GetPiece(ctx context.Context, h storage.Hash, offset int64) (wire.Piece, error) {
	path := wire.BlobPath(h) + "?offset=" + strconv.FormatInt(offset, 10)
	a, err := c.roundTrip(ctx, message{method: "GET", path: path}, typeBytes)
	if err != nil {
		return wire.Piece{}, err
	}
	size, err := strconv.ParseInt(a.header(wire.HeaderSize), 10, 64)
	if err != nil {
		return wire.Piece{}, fmt.Errorf("the size of the attachment %q: %w", a.header(wire.HeaderSize), errForeign)
	}
	return wire.Piece{Data: a.body, Size: size}, nil
}

// Devices lists the shop's devices, as RenameDevice and RevokeDevice do after the change.
func (c *Client) Devices(ctx context.Context) (list wire.DeviceList, err error) {
	return list, c.call(ctx, "GET", wire.PathDevices, nil, &list)
}

// RenameDevice gives a device of the shop another name. wire.CodeNotFound: it is not in this shop.
func (c *Client) RenameDevice(ctx context.Context, id, name string) (list wire.DeviceList, err error) {
	return list, c.call(ctx, "PATCH", wire.PathDevices+"/"+id, wire.DeviceName{Name: name}, &list)
}

// RevokeDevice puts a device out of the shop for good. wire.CodeNotFound: it is not in this shop.
func (c *Client) RevokeDevice(ctx context.Context, id string) (list wire.DeviceList, err error) {
	return list, c.call(ctx, "DELETE", wire.PathDevices+"/"+id, nil, &list)
}

// MakeCode makes a code for one more device.
func (c *Client) MakeCode(ctx context.Context) (code wire.CodeReply, err error) {
	return code, c.call(ctx, "POST", wire.PathCodes, nil, &code)
}

// call sends in as JSON, if it is not nil, and reads the answer into out.
func (c *Client) call(ctx context.Context, method, path string, in, out any) error {
	m := message{method: method, path: path}
	if in != nil {
		body, err := json.Marshal(in)
		if err != nil {
			return err
		}
		m.contentType = typeJSON
		m.body, m.zipped = pack(body)
	}
	a, err := c.roundTrip(ctx, m, typeJSON)
	if err != nil {
		return err
	}
	if err := json.Unmarshal(a.body, out); err != nil {
		return fmt.Errorf("the answer of the server cannot be read: %w", err)
	}
	return nil
}

// roundTrip sends a message and gives the answer, if it is a good one of the wanted type.
func (c *Client) roundTrip(ctx context.Context, m message, want string) (reply, error) {
	m.url, m.token = c.base+wire.Prefix+m.path, c.token
	a, err := c.send.do(ctx, m)
	if err != nil {
		return reply{}, err
	}
	media, _, _ := strings.Cut(a.header("Content-Type"), ";")
	if a.status/100 != 2 {
		return reply{}, refusal(a, media)
	}
	if media != want {
		return reply{}, fmt.Errorf("an answer of type %q: %w", media, errForeign)
	}
	return a, nil
}

// refusal reads why the server refused. What is not in its form came from something between.
func refusal(a reply, media string) error {
	var said wire.Error
	if media != typeJSON || json.Unmarshal(a.body, &said) != nil || said.Code == "" {
		return fmt.Errorf("status %d: %w", a.status, errForeign)
	}
	return &said
}

// zipFrom is the length in bytes from which a message is worth compressing.
const zipFrom = 512

// pack compresses a body where that wins something.
func pack(body []byte) (packed []byte, zipped bool) {
	if len(body) < zipFrom {
		return body, false
	}
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	_, _ = z.Write(body) // a bytes.Buffer takes everything
	_ = z.Close()
	return b.Bytes(), true
}
