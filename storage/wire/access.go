package wire

import "torchside/storage"

// PairRequest asks for a place in a shop, with a code somebody in it has made. It is the only call
// besides that needs no token.
type PairRequest struct {
	Code string `json:"code"` // as typed: blanks and hyphens do not count
	Name string `json:"name"` // of the device, for its owners to tell it from others
}

// PairReply lets the device in.
type PairReply struct {
	Token  string `json:"token"` // shown with every request, as "Authorization: Bearer …"; told only now
	Device Device `json:"device"`
	Shop   Shop   `json:"shop"`
	Store  string `json:"store"` // the vault's id
}

// Shop names a shop.
type Shop struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

// Device is one of a shop's devices. Times are ms since 1970 UTC.
type Device struct {
	ID      string `json:"id"`
	Name    string `json:"name"`
	Added   int64  `json:"added"`
	Seen    int64  `json:"seen,omitempty"`    // not yet, if missing
	Revoked int64  `json:"revoked,omitempty"` // still let in, if missing
	This    bool   `json:"this,omitempty"`    // the one that asks
}

// DeviceList is all devices of the shop, in the order they came, those put out too.
type DeviceList struct {
	Shop    Shop     `json:"shop"`
	Devices []Device `json:"devices"`
}

// DeviceName renames a device.
type DeviceName struct {
	Name string `json:"name"`
}

// CodeReply is a code for one more device.
type CodeReply struct {
	Code    string   `json:"code"`    // eight digits
	Expires int64    `json:"expires"` // ms since 1970 UTC
	Link    string   `json:"link"`    // opens the app with the code
	QR      []string `json:"qr"`      // Link as a QR code: rows of 1 (dark) and 0, without the empty margin
}

// JoinFragment stands before the code in the fragment of a Link. A fragment never leaves the
// browser, so no log on the way has the code.
const JoinFragment = "join="

// Headers of a piece of an attachment.
const HeaderSize = "Torchside-Size" // bytes of the whole attachment

// Paths under Prefix.
const (
	PathSync    = "/sync"
	PathPair    = "/pair"
	PathCodes   = "/codes"
	PathDevices = "/devices"
	PathBlob    = "/blob/" // with the name behind
)

// BlobPath is the path of an attachment under Prefix; StatePath that of its BlobState.
func BlobPath(h storage.Hash) string { return PathBlob + h }

// StatePath is where BlobState is asked for.
func StatePath(h storage.Hash) string { return PathBlob + h + "/state" }
