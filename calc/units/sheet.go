package units

// SheetTable names the table a sheet gauge number is looked up in; the same number is a different thickness in each.
type SheetTable uint8

// The tables. The zero SheetTable is none: a gauge number is then refused, because it means nothing without its metal.
const (
	NoSheet SheetTable = iota
	// SteelSheet is the Manufacturers' Standard Gauge for uncoated steel sheet.
	SteelSheet
	// NonFerrousSheet is the Brown & Sharpe gauge of aluminium, copper and brass, the same as the American Wire Gauge.
	NonFerrousSheet
	// GalvanisedSheet is the galvanised sheet gauge; the coating is part of the thickness.
	GalvanisedSheet
	// StainlessSheet is the US Standard Gauge as used for stainless steel.
	StainlessSheet
)
