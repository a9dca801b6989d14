package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

// view shows the view that was asked for, else the list.
func (j *Journal) view() app.UI {
	return &journalList{Journal: j.App.Journal, Options: j.options()}
}
