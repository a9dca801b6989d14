package state

import (
	"math"

	"torchside/calc/journal"
	"torchside/calc/units"
	"torchside/calc/words"
)

// knownSpec is the known length in the picture that is no coin: the limits are those of the sheet.
var knownSpec = numberSpec("known", "Length between the two points", "Such as ten marks of a rule, or the diameter of a rod.", units.QuantityLength,
	0.001, 1, "the known length has to be in the picture").in("mm", "in")

// coarseShare of a width is an error worth setting the points finer for. Our own choice.
const coarseShare = 0.05

func reducePhotoPoints(a App, m Msg) (App, []Effect, bool) {
	switch m := m.(type) {
	case PhotoPointPicked:
		return a.measured(func(l *PhotoLook, p *PhotoMeasure) { p.pick(l.Photo, m) }), nil, true
	case PhotoPointNudged:
		return a.measured(func(l *PhotoLook, p *PhotoMeasure) { p.nudge(l.Photo, m.DX, m.DY) }), nil, true
	case PhotoPointTaken:
		return a.measured(func(_ *PhotoLook, p *PhotoMeasure) {
			if m.Point >= 0 && m.Point < len(p.Points) {
				p.At = m.Point
			}
		}), nil, true
	case PhotoKnownChosen:
		return a.measured(func(_ *PhotoLook, p *PhotoMeasure) { p.Coin = m.Coin }), nil, true
	case PhotoKnownTyped:
		return a.measured(func(_ *PhotoLook, p *PhotoMeasure) { p.Coin, p.text = "", m.Text }), nil, true
	}
	return a, nil, false
}

// measureBegun begins with the scale the photo has, if it has one.
func (a App) measureBegun() App {
	l := a.Journal.Look
	if l == nil || !l.Editable || l.Photo.Draw != nil || l.Photo.ThumbHash == "" {
		return a
	}
	p := &PhotoMeasure{units: a.Prefs.Units}
	if s := l.Photo.Scale; s != nil {
		p.Points[0] = PhotoPoint{Pick: journal.Pick{X: s.X1, Y: s.Y1, Off: journal.FinePick}, Set: true}
		p.Points[1] = PhotoPoint{Pick: journal.Pick{X: s.X2, Y: s.Y2, Off: journal.FinePick}, Set: true}
		p.At = 2
		p.known(s.M)
	} else {
		p.Coin = firstCoin(a.Prefs.Units.IsUS())
	}
	p.reckon(l.Photo)
	return a.measuring(func(*PhotoMeasure) *PhotoMeasure { return p })
}

// known goes on with a length that was used before: a coin of that diameter, else as typed.
func (p *PhotoMeasure) known(m float64) {
	for _, c := range journal.Coins() {
		if c.DiameterM == m {
			p.Coin = c.ID
			return
		}
	}
	p.text = units.Format(units.QuantityLength, m, knownSpec.unit(p.units), 0)
}

func firstCoin(us bool) string {
	region := "euro"
	if us {
		region = "us"
	}
	for _, c := range journal.Coins() {
		if c.Region == region {
			return c.ID
		}
	}
	return ""
}

// CoinOptions are the coins to choose from, those of the owner's system first; the last answer is a typed length.
func CoinOptions(us bool) []Option {
	var first, rest []Option
	for _, c := range journal.Coins() {
		o := Option{Value: c.ID, Label: c.Name}
		if (c.Region == "us") == us {
			first = append(first, o)
		} else {
			rest = append(rest, o)
		}
	}
	return append(append(first, rest...), Option{Label: "A rule, or another length I type"})
}

func (a App) measuring(change func(*PhotoMeasure) *PhotoMeasure) App {
	if a.Journal.Look == nil {
		return a
	}
	l := *a.Journal.Look
	l.Measure = change(l.Measure)
	a.Journal.Look = &l
	return a
}

// measured changes a copy of the measuring and works it out again.
func (a App) measured(change func(*PhotoLook, *PhotoMeasure)) App {
	l := a.Journal.Look
	if l == nil || l.Measure == nil {
		return a
	}
	p := *l.Measure
	change(l, &p)
	p.reckon(l.Photo)
	return a.measuring(func(*PhotoMeasure) *PhotoMeasure { return &p })
}

// pick sets a point. The next one not yet set is then in hand.
func (p *PhotoMeasure) pick(photo journal.Photo, m PhotoPointPicked) {
	at := m.Point
	if at < 0 || at >= len(p.Points) {
		at = p.At
	}
	first := !p.Points[at].Set
	p.Points[at] = placed(photo, m.X, m.Y, math.Max(journal.FinePick, m.Grain))
	p.At = at
	for i := range p.Points {
		if first && !p.Points[i].Set {
			p.At = i
			return
		}
	}
}

// nudge moves the point in hand; one that was never set begins in the middle.
func (p *PhotoMeasure) nudge(photo journal.Photo, dx, dy float64) {
	q := &p.Points[p.At]
	if !q.Set {
		*q = placed(photo, float64(photo.W)/2, float64(photo.H)/2, journal.FinePick)
	}
	*q = placed(photo, q.X+dx, q.Y+dy, journal.FinePick)
}

// placed is a point within the picture.
func placed(photo journal.Photo, x, y, off float64) PhotoPoint {
	within := func(v float64, most int) float64 {
		if math.IsNaN(v) {
			return 0
		}
		return math.Min(math.Max(v, 0), float64(most))
	}
	return PhotoPoint{Pick: journal.Pick{X: within(x, photo.W), Y: within(y, photo.H), Off: off}, Set: true}
}

// knownLength is the known length in metres; ok is false while there is none.
func (p *PhotoMeasure) knownLength() (m float64, ok bool) {
	field := knownSpec.Field
	field.Unit = knownSpec.unit(p.units)
	r := readField(knownSpec, field, p.text)
	p.Known = formField(knownSpec, field, p.text, r)
	if c, isCoin := journal.CoinByID(p.Coin); isCoin {
		return c.DiameterM, true
	}
	return r.si, r.given
}

// reckon works out the width, or says what is missing.
func (p *PhotoMeasure) reckon(photo journal.Photo) {
	p.Measured, p.Coarse, p.Width, p.Off, p.Problem = false, false, 0, 0, ""
	m, ok := p.knownLength()
	switch {
	case !p.Points[0].Set || !p.Points[1].Set:
		p.Problem = "Tap the two ends of the coin or of the known length."
	case !ok:
		p.Problem = "Say how long that is."
	case !p.Points[2].Set || !p.Points[3].Set:
		p.Problem = "Tap the two edges of the bead."
	default:
		p.width(photo, m)
	}
}

func (p *PhotoMeasure) width(photo journal.Photo, m float64) {
	width, off, ok := journal.MeasureWidth([2]journal.Pick{p.Points[0].Pick, p.Points[1].Pick}, m, [2]journal.Pick{p.Points[2].Pick, p.Points[3].Pick})
	if !ok {
		p.Problem = "Two points lie on top of each other: move one of them."
		return
	}
	p.Width, p.Off = width, off
	s := journal.Sheet{Photos: []journal.Photo{p.applied(photo, m)}}
	if wrong := s.Check(); len(wrong) > 0 {
		p.Problem = words.S("This cannot be kept: %s.", wrong[0].Error())
		return
	}
	p.Measured, p.Coarse = true, off > coarseShare*width
}

// applied is the photo with scale and width.
func (p *PhotoMeasure) applied(photo journal.Photo, m float64) journal.Photo {
	width, off := p.Width, p.Off
	photo.Scale = &journal.Scale{X1: p.Points[0].X, Y1: p.Points[0].Y, X2: p.Points[1].X, Y2: p.Points[1].Y, M: m}
	photo.BeadM, photo.BeadErrM = &width, &off
	return photo
}

// measureKept notes scale and width on the sheet.
func (a App) measureKept() (App, []Effect) {
	l := a.Journal.Look
	if l == nil || l.Measure == nil || !l.Measure.Measured {
		return a, nil
	}
	p := *l.Measure
	m, _ := p.knownLength()
	a.Journal.begun = nil
	a = a.measuring(func(*PhotoMeasure) *PhotoMeasure { return nil })
	return a.photoEdited(l.Index, func(photo *journal.Photo) { *photo = p.applied(*photo, m) })
}
