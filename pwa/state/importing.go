package state

import (
	"io"

	"torchside/calc/words"
)

// Source is a file picked by the person. It is read in pieces when it is needed, and may fail when it was taken away.
type Source interface {
	io.ReaderAt
	Size() int64
}

// ImportStep is a part of an import.
type ImportStep uint8

// Steps of an import, in order.
const (
	ImportChecking ImportStep = iota // the whole file is checked; nothing has been changed yet
	ImportAdding                     // what it holds is added
)

// ImportProgress tells how far an import is.
type ImportProgress struct {
	Step    ImportStep
	Percent int
}

func (ImportProgress) msg() {}

// text is what Bench says meanwhile.
func (m ImportProgress) text() string {
	if m.Step == ImportChecking {
		return words.F("Checking the file: %d %%. Nothing has been changed yet.", m.Percent)
	}
	return words.F("Reading in: %d %%. Keep this page open.", m.Percent)
}
