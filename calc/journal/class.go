package journal

// Class is a range of thickness that is looked at together.
type Class struct {
	ID   string
	Name string
	US   string  // the same for a person who thinks in gauges (steel sheet) and inches, by the usual sizes that fall into it
	Low  float64 // m, from
	High float64 // m, below
}

// classes are ranges in which one tip usually does: our own choice, common practice, no source. Usual sizes in mm and in inch or
// gauge that mean the same sheet fall into the same one (1.6 mm, 1/16 in, 16 ga; 3 mm, 1/8 in, 11 ga; 6 mm, 1/4 in).
var classes = []Class{
	{"lt1", "under 1 mm", "20 ga and thinner", 0, 0.001},
	{"1-2", "1 to 2 mm", "18 to 14 ga", 0.001, 0.002},
	{"2-2.8", "2 to 2.8 mm", "13 to 12 ga", 0.002, 0.0028},
	{"2.8-4.5", "2.8 to 4.5 mm", "11 ga to 5/32 in", 0.0028, 0.0045},
	{"4.5-7", "4.5 to 7 mm", "3/16 to 1/4 in", 0.0045, 0.007},
	{"7-12", "7 to 12 mm", "5/16 to 7/16 in", 0.007, 0.012},
	{"12-25", "12 to 25 mm", "1/2 to 15/16 in", 0.012, 0.025},
	{"gt25", "25 mm and over", "1 in and over", 0.025, 1},
}

// Classes lists the classes of thickness.
func Classes() []Class { return clone(classes) }

// ClassOf is the ID of the class of a thickness in m; "" without one.
func ClassOf(thickness *float64) string {
	if thickness == nil {
		return ""
	}
	for _, c := range classes {
		// A millionth of a metre is far below any rule: 2 mm typed as 0.0019999999 is still 2 mm.
		if *thickness >= c.Low-1e-6 && *thickness < c.High-1e-6 {
			return c.ID
		}
	}
	return ""
}

// ClassName is the name of a class for a person.
func ClassName(id string) string {
	for _, c := range classes {
		if c.ID == id {
			return c.Name
		}
	}
	return id
}
