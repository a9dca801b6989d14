package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/state"
)

// view shows the view that was asked for, else the list.
func (j *Journal) view() app.UI {
	o := j.App.Journal
	switch {
	case o.View == state.ViewDrills || o.Drill != nil:
		return &journalDrills{Journal: o, Options: j.options()}
	case o.View == state.ViewTrends:
		return &journalTrends{Journal: o, Options: j.options()}
	case o.View == state.ViewCompare && o.Compare != nil:
		return &journalCompare{Compare: o.Compare, Options: j.options()}
	}
	return &journalList{Journal: o, Options: j.options(), Card: cardLine(j.App.Setup)}
}
