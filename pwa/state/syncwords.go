package state

import (
	"errors"

	"torchside/calc/words"
	"torchside/storage"
)

// The codes of the server's protocol that mean something for a person.
const (
	codeUnauthorized = "unauthorized"
	codeRevoked      = "revoked"
	codeWrongCode    = "wrong_code"
	codeMalformed    = "malformed"
	codeLocked       = "locked"
	codeFull         = "full"
	codeUnavailable  = "unavailable"
	codeTooMany      = "too_many"
)

// vaultCode is the code of what the server answered, "" for any other error.
func vaultCode(err error) string {
	var said *VaultError
	if errors.As(err, &said) {
		return said.Code
	}
	return ""
}

// isOut reports whether the server does not let this device in, or no longer.
func isOut(err error) bool {
	c := vaultCode(err)
	return c == codeUnauthorized || c == codeRevoked
}

// vaultReason says for a person why something with the server did not happen.
func vaultReason(err error) string {
	switch vaultCode(err) {
	case codeUnauthorized:
		return "The server does not know this device. It may have been set up anew. Everything stays here; join with a new code."
	case codeRevoked:
		return "This device was put out of the shop. Everything stays here; to come back, join with a new code."
	case codeWrongCode:
		return "No device can join with this code: it is wrong, was used already, or its ten minutes are over. Ask for a new one."
	case codeLocked:
		return "Too many wrong codes were tried: joining is locked for ten minutes. Wait, then ask for a new code. Devices in the shop are not touched by this."
	case codeFull:
		return "The disk of the server is full: it takes nothing new. Nothing is lost, changes wait here. Make room on the server."
	case codeUnavailable:
		return "The server is starting or stopping. It is tried again by itself."
	case codeTooMany:
		return "The server asks for patience. It is tried again by itself."
	}
	if errors.Is(err, storage.ErrFull) {
		return "This device is full: nothing new from the server fits. What was entered here was still sent. Make room on the device."
	}
	var said *VaultError
	if errors.As(err, &said) {
		return said.Error()
	}
	return words.S("The server was not reached (%s). Is it running, and is this device in its network? It is tried again by itself.", shorten(err.Error()))
}
