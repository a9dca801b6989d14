package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/action"
	"torchside/pwa/present"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// formPhotos is the part of the editor that takes, shows and takes off photos.
func formPhotos(f *state.SheetForm, o present.Options) app.UI {
	offers := make([]widgets.PhotoOffer, 0, len(f.Offers))
	for _, offer := range f.Offers {
		offers = append(offers, widgets.PhotoOffer{Source: offer.Source, Name: offer.Name})
	}
	photos := make([]present.Photo, len(f.Photos))
	for i, p := range f.Photos {
		photos[i] = present.NewPhoto(p.Photo, i, o)
	}
	return widgets.Card("Photos", &widgets.PhotoStrip{Photos: photos, Busy: f.Taking > 0, Refused: f.Refused, Offers: offers,
		OnAdd: onPhotoAdd, OnAttach: onPhotoAttach, OnRemove: onPhotoRemove, OnOpen: onPhotoOpen})
}

// shownPhotos are the photos of a saved sheet; without any there is nothing.
func shownPhotos(v *state.SheetView, o present.Options) app.UI {
	photos := present.NewPhotos(v.Sheet.Photos, o)
	return app.If(len(photos) > 0, func() app.UI {
		return widgets.Card("Photos", &widgets.PhotoStrip{Photos: photos, OnOpen: onPhotoOpen})
	})
}

func onPhotoAdd(ctx app.Context, source int, role string) {
	action.Post(ctx, state.PhotosChosen{Source: source, Role: role})
}

func onPhotoAttach(ctx app.Context, source int) {
	action.Post(ctx, state.PhotoAttached{Source: source})
}

func onPhotoRemove(ctx app.Context, index int) { action.Post(ctx, state.PhotoRemoved{Index: index}) }

func onPhotoOpen(ctx app.Context, index int) { action.Post(ctx, state.PhotoLooked{Index: index}) }
