package present

import "torchside/calc/units"

// Options are the owner's choices that change how an answer is shown.
type Options struct {
	Units    units.System
	Region   string // hose colours: "iso" (ISO 3821) or "us" (US practice)
	Currency string // sign before a price; may be empty
}
