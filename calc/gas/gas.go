package gas

import (
	"fmt"
	"slices"
	"strings"

	"torchside/calc/words"
)

// Gas is one gas, by the name it has in files and on the command line.
type Gas string

// The gases this package knows.
const (
	Oxygen          Gas = "oxygen"
	Nitrogen        Gas = "nitrogen"
	Argon           Gas = "argon"
	Air             Gas = "air"
	Acetylene       Gas = "acetylene"
	Propane         Gas = "propane"
	Propylene       Gas = "propylene"
	Methylacetylene Gas = "methylacetylene"
	Propadiene      Gas = "propadiene"
	Methane         Gas = "methane"
	Hydrogen        Gas = "hydrogen"
)

// R is the molar gas constant in J/(mol K), exact (BIPM SI brochure, 9th edition; CODATA 2018).
const R = 8.31446261815324

// Storage is how a gas is kept in its cylinder, which decides how the contents are found.
type Storage uint8

// Ways a gas is kept.
const (
	// StoredCompressed is a gas at high pressure: the gauge and the temperature tell the contents.
	StoredCompressed Storage = iota
	// StoredDissolved is acetylene in solvent and porous mass: only the scale tells the contents.
	StoredDissolved
	// StoredLiquefied is a liquid under its own vapour: the gauge stands still until the liquid is gone, the scale tells.
	StoredLiquefied
)

// info is what is fixed about one gas.
type info struct {
	name    string
	formula string
	mass    float64 // molar mass, kg/mol
	fuel    bool
	storage Storage
}

// Molar masses are sums of the abridged standard atomic weights of CIAAW (IUPAC, 2021): H 1.0080, C 12.011, N 14.007,
// O 15.999, Ar 39.95. Sets with more digits (NASA-9: C 12.0107, H 1.00794, O 15.9994) differ by less than 0.01 %.
// Air has its own source, see airMolarMass.
var gases = map[Gas]info{
	Oxygen:          {"oxygen", "O2", 31.998e-3, false, StoredCompressed},
	Nitrogen:        {"nitrogen", "N2", 28.014e-3, false, StoredCompressed},
	Argon:           {"argon", "Ar", 39.95e-3, false, StoredCompressed},
	Air:             {"air", "air", airMolarMass, false, StoredCompressed},
	Acetylene:       {"acetylene", "C2H2", 26.038e-3, true, StoredDissolved},
	Propane:         {"propane", "C3H8", 44.097e-3, true, StoredLiquefied},
	Propylene:       {"propylene", "C3H6", 42.081e-3, true, StoredLiquefied},
	Methylacetylene: {"methylacetylene (propyne)", "C3H4", 40.065e-3, true, StoredLiquefied},
	Propadiene:      {"propadiene (allene)", "C3H4", 40.065e-3, true, StoredLiquefied},
	Methane:         {"methane (natural gas)", "CH4", 16.043e-3, true, StoredCompressed},
	Hydrogen:        {"hydrogen", "H2", 2.016e-3, true, StoredCompressed},
}

// airFraction is one part of dry air by mole fraction.
type airFraction struct {
	gas      Gas
	fraction float64
}

// airComposition is dry air as the ternary mixture of Lemmon, Jacobsen, Penoncello and Friend, J. Phys. Chem. Ref. Data 29
// (2000), section 2: nitrogen 0.7812, oxygen 0.2096, argon 0.0092; carbon dioxide is left out.
var airComposition = []airFraction{{Nitrogen, 0.7812}, {Oxygen, 0.2096}, {Argon, 0.0092}}

// airMolarMass is that of dry air with 400 ppm of carbon dioxide, kg/mol: CIPM-2007, Picard et al., Metrologia 45 (2008) 149.
const airMolarMass = 28.96546e-3

// order is the order gases are listed in: oxidizer, inert gases, air, then fuels from the hottest torch fuel on.
var order = []Gas{Oxygen, Nitrogen, Argon, Air, Acetylene, Propane, Propylene, Methylacetylene, Propadiene, Methane, Hydrogen}

// All returns every gas in listing order; the slice is the caller's.
func All() []Gas { return slices.Clone(order) }

// Fuels returns the fuel gases in listing order; the slice is the caller's.
func Fuels() []Gas {
	return slices.DeleteFunc(All(), func(g Gas) bool { return !g.IsFuel() })
}

// Parse returns the gas of that name, in any letter case; the error wraps ErrUnknown and lists what is known.
func Parse(name string) (Gas, error) {
	g := Gas(strings.ToLower(strings.TrimSpace(name)))
	if !g.Known() {
		return "", fmt.Errorf(words.T("%w %q: known are %s"), ErrUnknown, name, list())
	}
	return g, nil
}

// list names all gases for an error message.
func list() string {
	names := make([]string, len(order))
	for i, g := range order {
		names[i] = string(g)
	}
	return words.Join(names, ", ")
}

// Known reports whether g is a gas of this package. The other methods return zero for one that is not.
func (g Gas) Known() bool {
	_, ok := gases[g]
	return ok
}

// IsFuel reports whether g burns.
func (g Gas) IsFuel() bool { return gases[g].fuel }

// Storage returns how g is kept in its cylinder.
func (g Gas) Storage() Storage { return gases[g].storage }

// Name returns the name for a person.
func (g Gas) Name() string { return gases[g].name }

// Formula returns the chemical formula; air has none and returns "air".
func (g Gas) Formula() string { return gases[g].formula }

// MolarMass returns the molar mass in kg/mol (CIAAW 2021 atomic weights).
func (g Gas) MolarMass() float64 { return gases[g].mass }
