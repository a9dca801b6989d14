package leak

import "torchside/calc/gas"

// FlammableLimit is the least of a fuel in air that burns.
type FlammableLimit struct {
	Fraction float64 // by volume
	Source   string
	Trust    Trust
}

const (
	iec60079 = "IEC 60079-20-1:2010, the lower of it and NFPA 497:2008"
	mines627 = "US Bureau of Mines Bulletin 627 (1965)"
)

// lowerLimits: rows of testdata/reference/flammability.csv, the lower of the two standards read for each gas. Propadiene is in neither.
var lowerLimits = map[gas.Gas]FlammableLimit{
	gas.Acetylene:       {0.023, iec60079, TrustRead},
	gas.Propane:         {0.017, iec60079, TrustRead},
	gas.Propylene:       {0.020, iec60079, TrustRead},
	gas.Methylacetylene: {0.017, iec60079, TrustRead},
	gas.Propadiene:      {0.015, mines627, TrustWeak},
	gas.Methane:         {0.044, iec60079, TrustRead},
	gas.Hydrogen:        {0.040, iec60079, TrustRead},
}

// LowerFlammableLimit returns the lower flammable limit in air, where sources differ the lower, which is the safer; nil for a gas that does not burn.
func LowerFlammableLimit(g gas.Gas) *FlammableLimit {
	l, ok := lowerLimits[g]
	if !ok {
		return nil
	}
	return &l
}
