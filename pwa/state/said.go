package state

import (
	"errors"
	"strings"

	"torchside/calc/gas"
	"torchside/calc/words"
)

// readable is an error of calc for a person, with quantities in both systems: a limit without the name that the field has in
// files.
func readable(err error) string {
	var outside *gas.RangeError
	if !errors.As(err, &outside) {
		return err.Error()
	}
	kind := ""
	if strings.HasSuffix(outside.Field, "_abs_pa") {
		kind = " absolute"
	}
	return words.S("Read %s%s; allowed is %s to %s%s: %s", outside.Text(outside.Value), kind, outside.Text(outside.Low), outside.Text(outside.High), kind, outside.Why)
}

// said is an error of calc in the owner's units.
func (a App) said(err error) string { return a.Prefs.Units.Say(readable(err)) }
