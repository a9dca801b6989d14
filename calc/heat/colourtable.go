package heat

// Colour is one row of a table of colours: what a source calls it and where it puts it. Sources differ by a hundred degrees and
// more; no row is the true one.
type Colour struct {
	Name string
	// Low and High are °C as printed; they are equal where the source gives one figure, and High is 0 where the range has no end.
	Low, High float64
	Source    string
}

// Sources of colours, all read, in copies or second hand.
const (
	sourceChapman      = "Chapman, Workshop Technology, 5th edition 1972, as quoted in an encyclopedia"
	sourceSteam        = "1905 steam-engineering handbook, p.50"
	sourceStove        = "list circulated for stove and fire colours"
	sourceDooley       = "Dooley, metalworking text"
	sourceLoose        = "internet list (conflicts with the books)"
	sourceColvin       = "Colvin and Juthe, The Working of Steel, averages of several authors"
	sourceColvinSpread = "Colvin and Juthe, spread between authors"
	sourceTreatment    = "steel treatment handbook, Table 26"
)

// glow is the light of hot steel, by source, the coldest first.
var glow = []Colour{
	{"black red", 426, 593, sourceChapman},
	{"very dark red", 594, 704, sourceChapman},
	{"dark red", 705, 814, sourceChapman},
	{"cherry red", 815, 870, sourceChapman},
	{"light cherry red", 871, 981, sourceChapman},
	{"orange", 982, 1092, sourceChapman},
	{"yellow", 1093, 1258, sourceChapman},
	{"yellow-white", 1259, 1314, sourceChapman},
	{"white", 1315, 0, sourceChapman},
	{"just visible red", 525, 525, sourceSteam},
	{"dull cherry", 800, 800, sourceSteam},
	{"full cherry", 900, 900, sourceSteam},
	{"clear cherry", 1000, 1000, sourceSteam},
	{"deep orange", 1100, 1100, sourceSteam},
	{"white", 1300, 1300, sourceSteam},
	{"bright white", 1400, 1400, sourceSteam},
	{"dazzling white", 1500, 1500, sourceSteam},
	{"lowest red visible in the dark", 400, 400, sourceStove},
	{"lowest red visible at twilight", 474, 474, sourceStove},
	{"lowest red visible in daylight", 524, 524, sourceStove},
	{"lowest red visible in sunlight", 581, 581, sourceStove},
	{"dark red", 700, 700, sourceStove},
	{"dull cherry red", 800, 800, sourceStove},
	{"cherry red", 900, 900, sourceStove},
	{"bright cherry red", 1000, 1000, sourceStove},
	{"orange-red", 1100, 1100, sourceStove},
	{"first visible red", 514, 514, sourceDooley},
	{"dull red", 699, 699, sourceDooley},
	{"dark cherry", 799, 799, sourceDooley},
	{"bright red", 1021, 1021, sourceDooley},
	{"dull orange", 1099, 1099, sourceDooley},
	{"bright orange", 1199, 1199, sourceDooley},
	{"white", 1299, 1299, sourceDooley},
	{"bright white", 1399, 1399, sourceDooley},
	{"dazzling white", 1499, 1599, sourceDooley},
	{"dark cherry", 593, 593, sourceLoose},
	{"full cherry", 760, 760, sourceLoose},
}

// temper is the oxide that bright steel takes in some minutes, by source, the coldest first.
var temper = []Colour{
	{"faint yellow", 221, 221, sourceColvin},
	{"light straw", 237, 237, sourceColvin},
	{"dark straw", 248, 248, sourceColvin},
	{"bluish purple", 288, 288, sourceColvin},
	{"blue", 300, 300, sourceColvin},
	{"greenish blue", 331, 331, sourceColvin},
	{"light straw", 232, 246, sourceColvinSpread},
	{"dark straw", 232, 260, sourceColvinSpread},
	{"blue", 293, 307, sourceColvinSpread},
	{"yellow", 221, 232, sourceTreatment},
	{"straw", 238, 238, sourceTreatment},
	{"brown-yellow", 260, 260, sourceTreatment},
	{"light purple", 277, 277, sourceTreatment},
	{"dark purple", 288, 288, sourceTreatment},
	{"pale blue", 304, 304, sourceTreatment},
	{"blue", 316, 316, sourceTreatment},
	{"very pale yellow", 221, 221, sourceDooley},
	{"straw", 238, 238, sourceDooley},
	{"dark straw", 249, 249, sourceDooley},
	{"yellow tinged with purple", 271, 271, sourceDooley},
	{"light purple", 277, 277, sourceDooley},
	{"dark purple", 288, 288, sourceDooley},
	{"dark blue", 299, 299, sourceDooley},
	{"pale blue", 321, 321, sourceDooley},
	{"blue-green", 332, 332, sourceDooley},
}
