package wire

import "fmt"

// Error is what went wrong with a whole call, as the vault says it.
type Error struct {
	Code    Code   `json:"code"`
	Message string `json:"message"`      // what was read, what is allowed, why
	Do      string `json:"do,omitempty"` // what a person can do
	// Gone, with CodeNotFound: the attachment was let go of for good with the
	// last version that named it. It is the vault's tag, behind the last dot
	// in the chain of the checkpoints it gives out now.
	Gone  string `json:"gone,omitempty"`
	cause error  // for the log of the side that made it; never sent
}

// Because returns the error with its cause, which stays on this side.
func (e *Error) Because(cause error) *Error {
	e.cause = cause
	return e
}

// Unwrap returns the cause, nil on the other side.
func (e *Error) Unwrap() error { return e.cause }

// Error gives the message and what to do.
func (e *Error) Error() string {
	if e.Do == "" {
		return e.Message
	}
	return e.Message + ": " + e.Do
}

// Is makes errors.Is compare by code.
func (e *Error) Is(target error) bool {
	other, ok := target.(*Error)
	return ok && other.Code == e.Code
}

// Code names a kind of error; it is part of the protocol.
type Code string

// Codes and the HTTP status each travels with.
const (
	CodeMalformed    Code = "malformed"    // 400: not the message expected
	CodeUnauthorized Code = "unauthorized" // 401: no device of this vault; deletes nothing
	CodeRevoked      Code = "revoked"      // 401: this device was put out of the shop; deletes nothing
	CodeWrongCode    Code = "wrong_code"   // 403: no such pairing code, used, or over
	CodeCrossOrigin  Code = "cross_origin" // 403: asked by a page of another site
	CodeNotFound     Code = "not_found"    // 404: no such attachment, device or path
	CodeMethod       Code = "method"       // 405: the path is there, but not for that
	CodeOffset       Code = "offset"       // 409: a piece that does not follow what is there; ask for the state
	CodeTooLarge     Code = "too_large"    // 413: over a limit
	CodeMediaType    Code = "media_type"   // 415: another content type or encoding
	CodeBadHash      Code = "bad_hash"     // 422: the content does not have the name; what was sent is forgotten
	CodeTooMany      Code = "too_many"     // 429: wait
	CodeLocked       Code = "locked"       // 429: too many wrong codes; wait
	CodeInternal     Code = "internal"     // 500
	CodeFull         Code = "full"         // 503: the vault's disk is full; nothing was half written
	CodeUnavailable  Code = "unavailable"  // 503: stopping, or not ready
)

// statuses are those HTTP statuses.
var statuses = map[Code]int{
	CodeMalformed: 400, CodeUnauthorized: 401, CodeRevoked: 401, CodeWrongCode: 403, CodeCrossOrigin: 403,
	CodeNotFound: 404, CodeMethod: 405, CodeOffset: 409, CodeTooLarge: 413,
	CodeMediaType: 415, CodeBadHash: 422, CodeTooMany: 429, CodeLocked: 429, CodeInternal: 500, CodeFull: 503, CodeUnavailable: 503,
}

// HTTP returns the status a code travels with, 500 for an unknown one.
func (c Code) HTTP() int {
	if s, ok := statuses[c]; ok {
		return s
	}
	return 500
}

// Errorf makes an error of a code.
func Errorf(c Code, format string, args ...any) *Error {
	return &Error{Code: c, Message: fmt.Sprintf(format, args...)}
}
