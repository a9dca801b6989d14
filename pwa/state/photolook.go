package state

// Messages of one photo shown large.
type (
	// PhotoLooked shows a photo of the open sheet large, PhotoLookClosed the sheet again.
	PhotoLooked     struct{ Index int }
	PhotoLookClosed struct{}
)

func (PhotoLooked) msg()     {}
func (PhotoLookClosed) msg() {}

// PhotoLook is one photo shown large.
type PhotoLook struct {
	Index int
}

func reducePhotoLook(a App, m Msg) (App, []Effect, bool) {
	switch m := m.(type) {
	case PhotoLooked:
		return did(a.photoLooked(m.Index))
	case PhotoLookClosed:
		a.Journal.Look = nil
		return a, nil, true
	}
	return a, nil, false
}

// photoLooked shows a photo of the sheet being written, else of the open one.
func (a App) photoLooked(index int) (App, []Effect) {
	n := 0
	switch {
	case a.Journal.Editor != nil:
		n = len(a.Journal.Editor.sheet.Photos)
	case a.Journal.Shown != nil:
		n = len(a.Journal.Shown.Sheet.Photos)
	}
	if index < 0 || index >= n {
		return a, nil
	}
	a.Journal.Look = &PhotoLook{Index: index}
	return a, nil
}
