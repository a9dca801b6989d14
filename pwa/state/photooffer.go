package state

import "slices"

// PhotoOffer is a file that is no picture this browser can show and may be attached as it is.
type PhotoOffer struct {
	Source     int // number under which the page keeps it
	Name, Role string
}

// photoAttached has a refused file stored as it is. Asked a second time, the offer is gone.
func (a App) photoAttached(source int) (App, []Effect) {
	f := a.Journal.Editor
	if f == nil || f.Busy {
		return a, nil
	}
	i := slices.IndexFunc(f.Offers, func(o PhotoOffer) bool { return o.Source == source })
	if i < 0 {
		return a, nil
	}
	g, o := f.clone(), f.Offers[i]
	g.Taking++
	g.Offers = slices.Delete(slices.Clone(f.Offers), i, i+1)
	a.Journal.Editor = g
	return a, []Effect{PutPhotos{Key: g.Key, Role: o.Role, Source: source, Plain: true}}
}
