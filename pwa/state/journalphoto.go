package state

import (
	"errors"
	"slices"
	"strings"

	"torchside/calc/journal"
	"torchside/calc/words"
	"torchside/storage"
)

func reduceSheetPhotos(a App, m Msg) (App, []Effect, bool) {
	switch m := m.(type) {
	case PhotosChosen:
		return did(a.photosChosen(m))
	case PhotoPut:
		return did(a.photoPut(m))
	case PhotoRefused:
		return did(a.photoRefused(m))
	case PhotoAttached:
		return did(a.photoAttached(m.Source))
	case PhotoStored:
		return did(a.photoStored(m))
	case PhotosPut:
		return did(a.photosPut(m.Key))
	case PhotoRemoved:
		return did(a.photoRemoved(m.Index))
	case PhotoTyped:
		return did(a.photoEdited(m.Index, func(p *journal.Photo) { p.Caption = m.Text }))
	case PhotoRoleChosen:
		return did(a.photoEdited(m.Index, func(p *journal.Photo) { p.Role = m.Role }))
	}
	return a, nil, false
}

// photosChosen has the files stored; the sheet cannot be saved before they are.
func (a App) photosChosen(m PhotosChosen) (App, []Effect) {
	f := a.Journal.Editor
	if f == nil || f.Busy {
		return a, nil
	}
	g := f.clone()
	g.Taking++
	g.Refused, g.Offers = nil, nil
	a.Journal.Editor = g
	return a, []Effect{PutPhotos{Key: g.Key, Role: m.Role, Source: m.Source}}
}

// photoPut adds a stored photo to its sheet: to the open form, or to what is kept of a form that was closed meanwhile.
func (a App) photoPut(m PhotoPut) (App, []Effect) {
	if isUpkeep(m.Key) {
		return a.upkeepPhotoPut(m.Key, m.Photo)
	}
	add := func(f *SheetForm) bool {
		same := func(p journal.Photo) bool { return p.Hash != "" && p.Hash == m.Photo.Hash && p.Role == m.Photo.Role }
		if slices.ContainsFunc(f.sheet.Photos, same) {
			f.Refused = append(slices.Clone(f.Refused), "This photo is on the sheet already.")
			return true
		}
		f.sheet.Photos = append(f.sheet.Photos, m.Photo)
		return true
	}
	if f := a.Journal.Editor; f != nil && f.Key == m.Key {
		return a.edited(add)
	}
	d, kept := a.drafts[m.Key]
	f, ok := a.sheetFormOf(m.Key, d)
	if !kept || !ok {
		a.Journal.Report = "A photo was stored after its sheet was closed and is on no sheet. Choose it again."
		return a, nil
	}
	add(f)
	return a.keepSheet(f)
}

func (a App) photoRefused(m PhotoRefused) (App, []Effect) {
	text := m.Why
	if m.Name != "" {
		text = words.S("%s: %s", m.Name, m.Why)
	}
	if isUpkeep(m.Key) {
		return a.upkeepPhotoRefused(m.Key, text), nil
	}
	f := a.Journal.Editor
	if f == nil || f.Key != m.Key {
		a.Journal.Report = text
		return a, nil
	}
	g := f.clone()
	g.Refused = append(slices.Clone(f.Refused), text)
	if m.Offer != 0 {
		g.Offers = append(slices.Clone(f.Offers), PhotoOffer{Source: m.Offer, Name: m.Name, Role: m.Role})
	}
	a.Journal.Editor = g
	return a, nil
}

// photoStored puts a file the store has taken on the sheet. A name is kept of what cannot be shown.
func (a App) photoStored(m PhotoStored) (App, []Effect) {
	if m.Err != nil {
		why := words.S("%s; the sheet is kept and can be saved without it", storeReason(m.Err))
		if errors.Is(m.Err, storage.ErrFull) {
			why += words.T(". To make room: export everything under Bench, free space on this device, then choose the photo again")
		}
		return a.photoRefused(PhotoRefused{Key: m.Key, Name: m.Name, Why: why})
	}
	p := journal.Photo{Hash: m.Hash, ThumbHash: m.ThumbHash, Role: m.Role, W: m.W, H: m.H, Bytes: m.Bytes, Type: m.Type}
	if m.ThumbHash == "" {
		name := []rune(strings.ToValidUTF8(m.Name, ""))
		p.Name = string(name[:min(len(name), journal.MaxWord)])
	}
	return a.photoPut(PhotoPut{Key: m.Key, Photo: p})
}

func (a App) photosPut(key string) (App, []Effect) {
	if isUpkeep(key) {
		return a.upkeepPhotosPut(key), nil
	}
	f := a.Journal.Editor
	if f == nil || f.Key != key {
		return a, nil
	}
	g := f.clone()
	g.Taking = max(0, f.Taking-1)
	g.Problem = ""
	a.Journal.Editor = g
	return a, nil
}

// photoRemoved takes a photo off the sheet. Its bytes stay in the store, so that Undo has something to bring back.
func (a App) photoRemoved(index int) (App, []Effect) {
	before := a.Journal.Editor
	if before == nil || index < 0 || index >= len(before.sheet.Photos) {
		return a, nil
	}
	text := words.S("%s is taken off the sheet.", photoName(before.sheet.Photos[index], index))
	a, effects := a.edited(func(f *SheetForm) bool {
		f.sheet.Photos = slices.Delete(f.sheet.Photos, index, index+1)
		return true
	})
	removed := before.sheet.Photos[index]
	a.Undo = &Undo{Text: text, key: before.Key, change: func(f *SheetForm) {
		f.sheet.Photos = slices.Insert(f.sheet.Photos, min(index, len(f.sheet.Photos)), removed)
	}}
	return a, effects
}

func (a App) photoEdited(index int, change func(*journal.Photo)) (App, []Effect) {
	return a.edited(func(f *SheetForm) bool {
		if index < 0 || index >= len(f.sheet.Photos) {
			return false
		}
		change(&f.sheet.Photos[index])
		return true
	})
}

// changedBack takes a change of the open form back; a form that was closed meanwhile is left alone.
func (a App) changedBack(u *Undo) (App, []Effect) {
	a.Undo = nil
	if f := a.Journal.Editor; f == nil || f.Key != u.key {
		return a, nil
	}
	return a.edited(func(f *SheetForm) bool {
		u.change(f)
		return true
	})
}

// draftPhotos are the photos of sheets that are still being written: nothing else names them yet.
func (a App) draftPhotos() []storage.Hash {
	list := a.upkeepDraftPhotos()
	for _, d := range a.drafts {
		if s, err := journal.Read([]byte(d.Choices["sheet"])); err == nil {
			list = append(list, s.Hashes()...)
		}
	}
	return list
}
