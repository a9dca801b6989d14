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
