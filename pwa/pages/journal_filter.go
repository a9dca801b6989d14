package pages

import (
	"strconv"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// filter is the button that opens the choices, with what is chosen, and the choices.
func (l *journalList) filter() app.UI {
	j := l.Journal
	label, chosen := "Filter", l.chosen()
	if len(chosen) > 0 {
		label += words.S(": %s chosen", strconv.Itoa(len(chosen)))
	}
	return app.Div().Class("filter").Body(
		&widgets.BigButton{Act: "filter", Label: label, Expanded: boolWord(j.FiltersOpen), OnPress: post(state.FiltersToggled{})},
		app.If(!j.FiltersOpen && len(chosen) > 0, func() app.UI {
			return app.Div().Class("chips-row").Body(app.Range(chosen).Slice(func(i int) app.UI {
				f := chosen[i]
				return &widgets.SmallButton{Act: "filter-drop-" + f.Key, Label: "✕ " + f.Label + ": " + chosenLabel(f), OnPress: post(state.SheetFiltered{Key: f.Key})}
			}))
		}),
		app.If(j.FiltersOpen, func() app.UI {
			return widgets.Card("", append(l.choices(), app.P().Class("quiet").Text(words.Text("The numbers count the whole journal.")),
				&widgets.BigButton{Act: "filter-clear", Label: "Take all choices away", Disabled: len(chosen) == 0, OnPress: post(state.FilterCleared{})})...)
		}))
}

// choices are the open choices: chips, or a list where there are many.
func (l *journalList) choices() []app.UI {
	var list []app.UI
	for _, f := range l.Journal.Filters {
		choose := func(ctx app.Context, value string) { l.onFilter(ctx, f.Key, value) }
		if f.Key == "tip" || f.Key == "month" || f.Key == "drill" {
			all := append([]widgets.Choice{{Label: "Any"}}, options(f.Options)...)
			if f.Key == "month" {
				byYear(all)
			}
			list = append(list, &widgets.SelectField{ID: "filter-" + f.Key, Act: "filter-" + f.Key, Label: f.Label, Choices: all, Selected: f.Text, OnChoose: choose})
			continue
		}
		list = append(list, &widgets.ChipGroup{Act: "filter-" + f.Key, Label: f.Label, Choices: options(f.Options), Selected: f.Text, OnChoose: choose})
	}
	return list
}

// byYear groups months, "2026-03", by their year.
func byYear(months []widgets.Choice) {
	for i, m := range months {
		months[i].Group, _, _ = strings.Cut(m.Value, "-")
	}
}

// chosen are the choices that are made.
func (l *journalList) chosen() []state.FormField {
	var list []state.FormField
	for _, f := range l.Journal.Filters {
		if f.Text != "" {
			list = append(list, f)
		}
	}
	return list
}

func chosenLabel(f state.FormField) string {
	for _, o := range f.Options {
		if o.Value == f.Text {
			return o.Label
		}
	}
	return f.Text
}

// searchPause is how long the search waits for the next letter: longer than between two letters, shorter than a person waits.
const searchPause = 200 * time.Millisecond

// journalSearch is the search field. It asks when the typing pauses.
type journalSearch struct {
	app.Compo

	Text string

	typed int // texts typed so far
}

// Render shows the field.
func (s *journalSearch) Render() app.UI {
	return &widgets.TextField{ID: "journal-search", Act: "journal-search", Label: "Search", Help: "Any words of a sheet; the last one may be only begun.", Value: s.Text, OnInput: s.onInput}
}

func (s *journalSearch) onInput(ctx app.Context, text string) {
	s.typed++
	mine := s.typed
	ctx.After(searchPause, func(ctx app.Context) {
		if s.typed == mine {
			action.Post(ctx, state.SheetSearched{Text: text})
		}
	})
}
