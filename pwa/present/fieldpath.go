package present

import (
	"strconv"
	"strings"

	"torchside/calc/words"
)

// unitEndings are the SI units at the end of JSON names; a person does not need them.
var unitEndings = []string{"_std_m3_s", "_gauge_pa", "_abs_pa", "_std_m3", "_m_s", "_pa", "_m3", "_kg", "_m", "_k", "_s", "_w"}

// fieldPath writes a JSON path for a person: "rig.tips[2].orifice_diameter_m" becomes "tips 3, orifice diameter".
func fieldPath(path string) string {
	var parts []string
	for _, p := range strings.Split(strings.TrimPrefix(path, "rig."), ".") {
		name, index, _ := strings.Cut(p, "[")
		for _, end := range unitEndings {
			if cut, ok := strings.CutSuffix(name, end); ok {
				name = cut
				break
			}
		}
		name = plain(name)
		if n, err := strconv.Atoi(strings.TrimSuffix(index, "]")); err == nil {
			name += " " + strconv.Itoa(n+1)
		}
		parts = append(parts, name)
	}
	return words.Join(parts, ", ")
}
