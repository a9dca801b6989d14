package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/action"
	"torchside/pwa/present"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// piece asks what heating, bending, cutting and brazing need besides; nothing for other works.
func (s *Setup) piece() app.UI {
	list := s.App.Setup.Piece
	return app.If(len(list) > 0, func() app.UI {
		title := "For time, gas and what else gets hot"
		switch work := s.App.Setup.Work; {
		case work == "cut":
			title = "The cut"
		case present.IsBrazing(work):
			title = "The joint"
		case work == "weld":
			title = "For time, gas and cost"
		}
		return widgets.Card(title, fields(list, "setup", s.onPiece, s.onPiece)...)
	})
}

// onPiece keeps the form open as the other fields do.
func (s *Setup) onPiece(ctx app.Context, key, text string) {
	s.editing = true
	action.Post(ctx, state.SetupTyped{Field: key, Text: text})
}
