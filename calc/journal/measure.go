package journal

import "math"

// Pick is a point picked in a picture, in pixels of the stored photo.
type Pick struct {
	X, Y float64
	Off  float64 // standard uncertainty of each coordinate, pixels
}

// FinePick is the standard uncertainty of a point set pixel by pixel, in pixels: the edge of a bead is not sharper than that in a
// photo made smaller. Our own choice, no source.
const FinePick = 1.0

// coverage makes of a standard uncertainty what nineteen of twenty results lie within (JCGM 100:2008, 6.2 and G.1.3: k = 2 for
// about 95 % where the distribution is near normal).
const coverage = 2

// MeasureWidth is the length in metres between two points of a picture, from a known length in metres between two others, and
// what it may be off by from picking the points (k = 2). The relative uncertainties of the two lines add in quadrature, as
// for any quotient (JCGM 100:2008, 5.1.6, equation 12). Perspective is not in it: both lines are taken as equally far from the
// camera. ok is false when a line is shorter than MinScalePixels, or anything is not finite or not above zero.
func MeasureWidth(known [2]Pick, knownM float64, bead [2]Pick) (width, off float64, ok bool) {
	k, dk := pickedLine(known)
	b, db := pickedLine(bead)
	if !(k >= MinScalePixels) || !(b > 0) || !(knownM > 0) || !finite(k) || !finite(b) || !finite(knownM) {
		return 0, 0, false
	}
	width = b / k * knownM
	off = coverage * width * hypot(dk/k, db/b)
	return width, off, finite(off)
}

// pickedLine is the length between two points and its standard uncertainty, pixels.
func pickedLine(p [2]Pick) (length, off float64) {
	return hypot(p[1].X-p[0].X, p[1].Y-p[0].Y), math.Sqrt(p[0].Off*p[0].Off + p[1].Off*p[1].Off)
}

// Coin is a coin in circulation, as a known length.
type Coin struct {
	ID, Name  string
	Region    string  // "us" or "euro"
	DiameterM float64 // m
}

// coins: the diameters of United States coins are those of the United States Mint ("Coin Specifications", circulating coins, table row
// "Diameter"); those of euro coins are from Council Regulation (EC) No 975/98 of 3 May 1998, Annex I, as EUR-Lex sums it up.
var coins = []Coin{
	{"us_cent", "US cent", "us", 0.01905}, {"us_nickel", "US nickel, 5 cents", "us", 0.02121}, {"us_dime", "US dime, 10 cents", "us", 0.01791},
	{"us_quarter", "US quarter, 25 cents", "us", 0.02426}, {"us_half", "US half dollar", "us", 0.03061}, {"us_dollar", "US dollar", "us", 0.02649},
	{"eur_001", "1 euro cent", "euro", 0.01625}, {"eur_002", "2 euro cents", "euro", 0.01875}, {"eur_005", "5 euro cents", "euro", 0.02125},
	{"eur_010", "10 euro cents", "euro", 0.01975}, {"eur_020", "20 euro cents", "euro", 0.02225}, {"eur_050", "50 euro cents", "euro", 0.02425},
	{"eur_1", "1 euro", "euro", 0.02325}, {"eur_2", "2 euros", "euro", 0.02575},
}

// CoinSource tells a person where the diameters come from.
const CoinSource = "United States Mint, Coin Specifications; Council Regulation (EC) No 975/98, Annex I"

// Coins lists the coins whose diameter is known here.
func Coins() []Coin { return clone(coins) }

// CoinByID finds a coin.
func CoinByID(id string) (Coin, bool) {
	for _, c := range coins {
		if c.ID == id {
			return c, true
		}
	}
	return Coin{}, false
}
