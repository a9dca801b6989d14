package leak

// Trust says how far a source is to be trusted, in the letters of testdata/reference.
type Trust string

// Grades of trust used here.
const (
	TrustRead   Trust = "A" // read in the standard, rule or manual
	TrustWeak   Trust = "B" // read in an old or second-hand text
	TrustMemory Trust = "C" // from memory or common practice, not read: may restrict, never permit
	TrustOwn    Trust = "D" // computed or chosen here
)

// commonPractice is the source of what the trade does without one.
const commonPractice = "common practice, no source"

// Sources named more than once.
const (
	sourceAcetylene = "29 CFR 1910.253(a)(2)"
	sourceSoap      = "30 CFR 75.1106-5; NAVEDTRA 14018"
	sourceBubble    = "ASTM E515-11"
	sourceCreep     = "Navy training manual NAVEDTRA 14265, regulator malfunctions (creeping regulator), read in a copy"
	sourceDelivery  = "L. Campbell, The Oxy-Acetylene Welding Manual (Wiley), chapter IV, paragraph 50, read in a copy"
)

// Note is one thing to know beside a number.
type Note struct {
	Code   string // stable name
	Text   string // for a person
	Source string
	Trust  Trust
	Stop   bool // true: read before anything else is done
}
