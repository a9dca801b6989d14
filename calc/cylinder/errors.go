package cylinder

import (
	"torchside/calc/gas"
	"torchside/calc/words"
)

// NotCompressedError refuses a gas whose gauge does not tell the contents, and says how to find them.
type NotCompressedError struct {
	Gas gas.Gas
	How string // how to find the contents instead
}

// Error names the gas, what is allowed, and the way to weigh.
func (e *NotCompressedError) Error() string {
	return words.F("gas is %s, whose gauge does not tell the contents (it does for %s): %s", e.Gas, names(gas.StoredCompressed), e.How)
}

// WrongStorageError refuses to weigh a gas that is not kept the way the calculation assumes.
type WrongStorageError struct {
	Gas     gas.Gas
	Allowed string // gases allowed
	How     string // how to find the contents instead
}

// Error names the gas, what is allowed, and what to do instead.
func (e *WrongStorageError) Error() string {
	return words.F("gas is %s, allowed are %s: %s", e.Gas, e.Allowed, e.How)
}

// How to find the contents of each kind of cylinder.
const (
	howDissolved = "acetylene is dissolved in solvent, so weigh the cylinder: gross weight less the tare stamped on it is the gas, " +
		"1 kg of it is about 0.9 m³ (1 lb about 14.7 ft³)"
	howLiquefied = "it is a liquid under its own vapour, whose pressure stays the same until the liquid is gone, " +
		"so weigh the cylinder: gross weight less the tare stamped on it is the gas"
	howCompressed = "it is a compressed gas: read the cylinder gauge and the temperature"
)

// checkCompressed refuses gases that are not kept as compressed gas.
func checkCompressed(g gas.Gas) error {
	if _, err := gas.Parse(string(g)); err != nil {
		return err
	}
	switch g.Storage() {
	case gas.StoredDissolved:
		return &NotCompressedError{g, howDissolved}
	case gas.StoredLiquefied:
		return &NotCompressedError{g, howLiquefied}
	}
	return nil
}

// checkLiquefied refuses gases that are not kept as liquid.
func checkLiquefied(g gas.Gas) error {
	if _, err := gas.Parse(string(g)); err != nil {
		return err
	}
	switch g.Storage() {
	case gas.StoredDissolved:
		return &WrongStorageError{g, names(gas.StoredLiquefied), howDissolved}
	case gas.StoredCompressed:
		return &WrongStorageError{g, names(gas.StoredLiquefied), howCompressed}
	}
	return nil
}

// names lists the gases kept in one way.
func names(s gas.Storage) string {
	var list []string
	for _, g := range gas.All() {
		if g.Storage() == s {
			list = append(list, string(g))
		}
	}
	return words.Join(list, ", ")
}
