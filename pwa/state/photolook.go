package state

import (
	"torchside/calc/journal"
	"torchside/calc/units"
)

// Messages of one photo shown large and of the scale on it.
type (
	// PhotoLooked shows a photo of the open sheet large, PhotoLookClosed the sheet again, or the task of upkeep.
	PhotoLooked     struct{ Index int }
	PhotoLookClosed struct{}
	// PhotoMeasureBegun asks for the points of a known length and of the bead, PhotoMeasureLeft puts them away, PhotoMeasureKept keeps
	// them on the sheet.
	PhotoMeasureBegun struct{}
	PhotoMeasureLeft  struct{}
	PhotoMeasureKept  struct{}
	// PhotoPointPicked sets a point, in pixels of the stored photo; Point -1 is the one in hand. Grain is how many of these pixels a
	// pixel of the screen covers: a finger is not finer.
	PhotoPointPicked struct {
		Point       int
		X, Y, Grain float64
	}
	// PhotoPointNudged moves the point in hand by pixels of the stored photo, PhotoPointTaken takes another one in hand.
	PhotoPointNudged struct{ DX, DY float64 }
	PhotoPointTaken  struct{ Point int }
	// PhotoKnownChosen says what the known length is: a coin, or "" for one that is typed; PhotoKnownTyped is that text.
	PhotoKnownChosen struct{ Coin string }
	PhotoKnownTyped  struct{ Text string }
)

func (PhotoLooked) msg()       {}
func (PhotoLookClosed) msg()   {}
func (PhotoMeasureBegun) msg() {}
func (PhotoMeasureLeft) msg()  {}
func (PhotoMeasureKept) msg()  {}
func (PhotoPointPicked) msg()  {}
func (PhotoPointNudged) msg()  {}
func (PhotoPointTaken) msg()   {}
func (PhotoKnownChosen) msg()  {}
func (PhotoKnownTyped) msg()   {}

// PhotoLook is one photo shown large.
type PhotoLook struct {
	Index    int
	Photo    journal.Photo
	Editable bool          // it is on the sheet being written
	Measure  *PhotoMeasure // nil while nothing is measured
}

// PhotoMeasure is the measuring of a bead on a photo. Nothing of it is on the sheet before it is kept.
type PhotoMeasure struct {
	Points     [4]PhotoPoint // two ends of the known length, two edges of the bead
	At         int           // the point in hand
	Coin       string        // id of the coin; "" for a typed length
	Known      FormField     // the typed length
	Measured   bool          // Width and Off hold
	Width, Off float64       // m
	Problem    string        // why there is no width yet
	Coarse     bool          // the points can be set finer

	text  string // typed
	units units.System
}

// PhotoPoint is one picked point.
type PhotoPoint struct {
	journal.Pick
	Set bool
}

func reducePhotoLook(a App, m Msg) (App, []Effect, bool) {
	switch m := m.(type) {
	case PhotoLooked:
		return did(a.photoLooked(m.Index))
	case PhotoLookClosed:
		return a.lookClosed().upkeepLookClosed(), nil, true
	case PhotoMeasureBegun:
		return a.measureBegun(), nil, true
	case PhotoMeasureLeft:
		a.Journal.begun = nil
		return a.measuring(func(*PhotoMeasure) *PhotoMeasure { return nil }), nil, true
	case PhotoMeasureKept:
		return did(a.measureKept())
	}
	return reducePhotoPoints(a, m)
}

// lookable are the photos that can be shown large now: those of the sheet being written, else of the open one.
func (a App) lookable() (list []journal.Photo, editable bool) {
	switch {
	case a.Journal.Editor != nil:
		return a.Journal.Editor.sheet.Photos, true
	case a.Journal.Shown != nil:
		return a.Journal.Shown.Sheet.Photos, false
	}
	return nil, false
}

// begunMeasure is the measuring of one photo, to be gone on with when that photo is looked at again.
type begunMeasure struct {
	photo   journal.Photo
	measure *PhotoMeasure
}

// lookClosed closes the large photo. Points picked on it and not kept wait for the next look.
func (a App) lookClosed() App {
	if l := a.Journal.Look; l != nil && l.Measure != nil {
		a.Journal.begun = &begunMeasure{l.Photo, l.Measure}
	}
	a.Journal.Look = nil
	return a
}

// begunOn is the measuring that was begun on the photo; nil for none.
func (j Journal) begunOn(p journal.Photo) *PhotoMeasure {
	if j.begun == nil || j.begun.photo.Hash != p.Hash {
		return nil
	}
	return j.begun.measure
}

func (a App) photoLooked(index int) (App, []Effect) {
	list, editable := a.lookable()
	if index < 0 || index >= len(list) {
		return a, nil
	}
	a.Journal.Look = &PhotoLook{Index: index, Photo: list[index], Editable: editable}
	if editable {
		a.Journal.Look.Measure = a.Journal.begunOn(list[index])
	}
	return a, nil
}

// looking keeps what is shown large in step with the sheet: changed with it, and closed when the photo or the sheet goes.
func (a App) looking() App {
	l := a.Journal.Look
	if l == nil {
		return a
	}
	list, editable := a.lookable()
	if l.Index >= len(list) || list[l.Index].Hash != l.Photo.Hash || list[l.Index].Draw != l.Photo.Draw || editable != l.Editable {
		return a.lookClosed()
	}
	g := *l
	g.Photo = list[l.Index]
	a.Journal.Look = &g
	return a
}

// tappedPhoto is Tapped for the messages of a photo shown large. Nudges are not: quick taps are how one moves far.
func tappedPhoto(m Msg) bool {
	switch m.(type) {
	case PhotoAttached, PhotoRemoved, PhotoLooked, PhotoLookClosed, PhotoMeasureBegun, PhotoMeasureLeft, PhotoMeasureKept:
		return true
	}
	return false
}
