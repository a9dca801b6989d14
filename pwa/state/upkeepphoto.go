package state

import (
	"encoding/json"
	"slices"
	"strings"

	"torchside/calc/journal"
)

// upkeepPhotos has photos stored for the entry being written.
func (a App) upkeepPhotos(m UpkeepPhotos) (App, []Effect) {
	if a.Upkeep.Open == nil {
		return a, nil
	}
	f := *a.Upkeep.Open
	f.Taking++
	f.Refused = nil
	a.Upkeep.Open = &f
	return a, []Effect{PutPhotos{Key: draftUpkeep + f.Item.Key, Role: m.Role, Source: m.Source}}
}

// isUpkeep reports whether a photo is for an entry of upkeep.
func isUpkeep(key string) bool { return strings.HasPrefix(key, draftUpkeep) }

// upkeepPhotoPut adds a stored photo to its entry: to the open form, or to what is kept of one that was closed meanwhile.
func (a App) upkeepPhotoPut(key string, p journal.Photo) (App, []Effect) {
	if f := a.Upkeep.Open; f != nil && draftUpkeep+f.Item.Key == key {
		return a.upkeepEdited(func(f *UpkeepForm) { f.Photos = append(f.Photos, p) })
	}
	f := UpkeepForm{texts: a.drafts[key].Texts}
	_ = json.Unmarshal([]byte(a.drafts[key].Choices["photos"]), &f.Photos) // none were kept
	f.Photos = append(f.Photos, p)
	return a.keepUpkeep(key, f)
}

// upkeepPhotoRefused says why a photo was not taken; of a form that was closed nothing is left to say it on.
func (a App) upkeepPhotoRefused(key, text string) App {
	if f := a.Upkeep.Open; f != nil && draftUpkeep+f.Item.Key == key {
		g := *f
		g.Refused = append(slices.Clone(f.Refused), text)
		a.Upkeep.Open = &g
	}
	return a
}

func (a App) upkeepPhotosPut(key string) App {
	if f := a.Upkeep.Open; f != nil && draftUpkeep+f.Item.Key == key {
		g := *f
		g.Taking = max(0, f.Taking-1)
		a.Upkeep.Open = &g
	}
	return a
}

// upkeepLooked shows a photo large, of the open task or of one that opens with it.
func (a App) upkeepLooked(m UpkeepLooked) (App, []Effect) {
	var effects []Effect
	if a.Upkeep.Open == nil || a.Upkeep.Open.Item.Key != m.Task {
		a, effects = a.upkeepOpened(m.Task)
	}
	if a.Upkeep.Open == nil {
		return a, nil
	}
	f := *a.Upkeep.Open
	if list := f.photosOf(m.Of); m.Index >= 0 && m.Index < len(list) {
		f.Look, f.LookOf = &PhotoLook{Index: m.Index, Photo: list[m.Index]}, m.Of
		a.Upkeep.Open, effects = &f, nil
	}
	return a, effects
}

// photosOf are the photos of an entry; "" is the one being written.
func (f *UpkeepForm) photosOf(id string) []journal.Photo {
	if id == "" {
		return f.Photos
	}
	for _, d := range f.Item.History {
		if d.ID == id {
			return d.Photos
		}
	}
	return nil
}

// looking closes the large photo when it is gone from its entry.
func (f *UpkeepForm) looking() {
	if l := f.Look; l != nil {
		if list := f.photosOf(f.LookOf); l.Index >= len(list) || list[l.Index].Hash != l.Photo.Hash {
			f.Look = nil
		}
	}
}

// upkeepLookClosed shows the task again.
func (a App) upkeepLookClosed() App {
	if a.Upkeep.Open != nil {
		f := *a.Upkeep.Open
		f.Look = nil
		a.Upkeep.Open = &f
	}
	return a
}

// upkeepDraftPhotos are the photos of entries that are still being written.
func (a App) upkeepDraftPhotos() []string {
	var list []string
	for key, d := range a.drafts {
		var photos []journal.Photo
		if isUpkeep(key) && json.Unmarshal([]byte(d.Choices["photos"]), &photos) == nil {
			list = append(list, UpkeepDone{Photos: photos}.hashes()...)
		}
	}
	return list
}
