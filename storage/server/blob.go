package server

import (
	"net/http"
	"strconv"

	"torchside/storage/vault"
	"torchside/storage/wire"
)

// blobState tells how much of an attachment is held.
func (s *Server) blobState(w http.ResponseWriter, r *http.Request, who caller, params []string) error {
	state, err := s.shopOf(who).BlobState(r.Context(), params[0])
	if err != nil {
		return err
	}
	return writeJSON(w, r, http.StatusOK, state)
}

// putPiece adds a piece: ?offset=N, and last=true with the last one.
func (s *Server) putPiece(w http.ResponseWriter, r *http.Request, who caller, params []string) error {
	if err := vault.CheckHash(params[0]); err != nil {
		return err
	}
	offset, err := number(r, "offset")
	if err != nil {
		return err
	}
	last, err := flag(r, "last")
	if err != nil {
		return err
	}
	piece, err := readBody(w, r, typeBytes, wire.MaxPiece)
	if err != nil {
		return err
	}
	if err := s.shopOf(who).PutPiece(r.Context(), params[0], offset, piece, last); err != nil {
		return err
	}
	s.metrics.add("piece", "taken", 1)
	return writeJSON(w, r, http.StatusOK, wire.BlobState{Have: offset + int64(len(piece)), Complete: last})
}

// getPiece gives up to wire.MaxPiece bytes from ?offset=N, and says how long the whole is.
func (s *Server) getPiece(w http.ResponseWriter, r *http.Request, who caller, params []string) error {
	offset, err := number(r, "offset")
	if err != nil {
		return err
	}
	piece, err := s.shopOf(who).GetPiece(r.Context(), params[0], offset)
	if err != nil {
		return err
	}
	s.metrics.add("piece", "given", 1)
	h := w.Header()
	h.Set(wire.HeaderSize, strconv.FormatInt(piece.Size, 10))
	h.Set("Content-Type", typeBytes)
	h.Set("Content-Length", strconv.Itoa(len(piece.Data)))
	_, err = w.Write(piece.Data)
	return err
}

// number reads a query value that is a count of bytes; it is nought if missing.
func number(r *http.Request, name string) (int64, error) {
	text := r.URL.Query().Get(name)
	if text == "" {
		return 0, nil
	}
	n, err := strconv.ParseInt(text, 10, 64)
	if err != nil || n < 0 {
		return 0, wire.Errorf(wire.CodeMalformed, "%s is %q and must be a number from 0.", name, text)
	}
	return n, nil
}

// flag reads a query value that is true or false; it is false if missing.
func flag(r *http.Request, name string) (bool, error) {
	switch text := r.URL.Query().Get(name); text {
	case "true":
		return true, nil
	case "", "false":
		return false, nil
	default:
		return false, wire.Errorf(wire.CodeMalformed, "%s is %q and must be true or false.", name, text)
	}
}
