package flame

import "strings"

// elements are the atoms a torch gas is made of, in the order formulas and element counts list them.
const elements = "CHO"

// atoms counts the atoms of one molecule by the order of elements.
type atoms [len(elements)]int

// atomsOf reads a formula of single-letter elements, such as C3H8 or CO2. It returns false for any other.
func atomsOf(formula string) (atoms, bool) {
	var count atoms
	element := -1
	digits := 0
	flush := func() {
		if element >= 0 {
			count[element] += max(digits, 1)
		}
	}
	for i := range len(formula) {
		c := formula[i]
		if c >= '0' && c <= '9' && element >= 0 {
			digits = 10*digits + int(c-'0')
			continue
		}
		flush()
		if element = strings.IndexByte(elements, c); element < 0 {
			return atoms{}, false
		}
		digits = 0
	}
	flush()
	return count, formula != ""
}
