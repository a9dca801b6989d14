package server

import (
	"context"
	"errors"
	"log/slog"
	"net/http"
	"time"

	"torchside/storage"
	"torchside/storage/vault"
	"torchside/storage/wire"
)

// problem is a refused request: what the reply says, and the cause, which goes to the log and
// never to the visitor.
type problem struct {
	body  wire.Error
	retry time.Duration // when to ask again; 0 when that would not help
	cause error
}

// Error gives the message and the cause.
func (p *problem) Error() string {
	if p.cause != nil {
		return p.body.Message + ": " + p.cause.Error()
	}
	return p.body.Message
}

// Unwrap gives the cause.
func (p *problem) Unwrap() error { return p.cause }

func (p *problem) status() int { return p.body.Code.HTTP() }

func refuse(code wire.Code, message, do string) *problem {
	return &problem{body: wire.Error{Code: code, Message: message, Do: do}}
}

// because attaches the cause.
func (p *problem) because(cause error) *problem {
	p.cause = cause
	return p
}

// after says when to ask again.
func (p *problem) after(wait time.Duration) *problem {
	p.retry = wait
	return p
}

// problemOf says what an error of the vault or of the connection means to the client. What is not
// foreseen is 500 with a text that gives nothing away.
func problemOf(err error) *problem {
	var known *problem
	var said *wire.Error
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &known):
		return known
	case errors.As(err, &said):
		return &problem{body: *said, cause: said.Unwrap()}
	case errors.As(err, &large):
		return tooLarge(large.Limit)
	case errors.Is(err, storage.ErrFull):
		return full().because(err)
	case errors.Is(err, vault.ErrNoShop), errors.Is(err, vault.ErrNoDevice), errors.Is(err, vault.ErrNoBlob), errors.Is(err, vault.ErrNotWanted):
		return notFound().because(err)
	case errors.Is(err, storage.ErrInvalid):
		return refuse(wire.CodeMalformed, err.Error(), "Repeating it does not help; report it.")
	case errors.Is(err, storage.ErrClosed), errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		return unavailable().because(err)
	}
	if errors.Is(err, storage.ErrLost) {
		return refuse(wire.CodeUnavailable, "The vault of the server was changed by something else, or could not be written.",
			"Nothing on this device is lost. On the server: look at its log, then start torchside again.").after(time.Minute).because(err)
	}
	if errors.Is(err, storage.ErrCorrupt) {
		return refuse(wire.CodeInternal, "The vault of the server is damaged.",
			"Nothing on this device is lost. On the server: stop torchside and run \"torchside check\".").because(err)
	}
	return refuse(wire.CodeInternal, "The server failed at this.",
		"Nothing on this device is lost. Try again later; the server's log says more.").because(err)
}

func tooLarge(limit int64) *problem {
	return &problem{body: *wire.Errorf(wire.CodeTooLarge, "The request has more than the %d bytes allowed.", limit)}
}

func full() *problem {
	return refuse(wire.CodeFull, "The disk of the server is full. Nothing of this request was stored.",
		"Free space on the server. What waits on this device is kept and sent again.").after(time.Minute)
}

func unavailable() *problem {
	return refuse(wire.CodeUnavailable, "The server is stopping, or too slow just now.", "Try again in a moment.").after(5 * time.Second)
}

func notFound() *problem {
	return refuse(wire.CodeNotFound, "There is no such thing in this shop.", "Look at the list again.")
}

func busy(wait time.Duration) *problem {
	return refuse(wire.CodeTooMany, "Too many requests.", "Wait, then try again.").after(wait)
}

// level is how loud the log is about it.
func (p *problem) level() slog.Level {
	if p.status() >= http.StatusInternalServerError {
		return slog.LevelError
	}
	return slog.LevelInfo
}
