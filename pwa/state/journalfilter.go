package state

import (
	"slices"
	"strings"

	"torchside/calc/journal"
	"torchside/calc/units"
	"torchside/calc/words"
	"torchside/storage"
)

// filterNames are the choices of the filter by the name of their terms, in the order of the page.
var filterNames = []string{"work", "metal", "class", "joint", "position", "score", "test", "photo", "tip", "drill", "month", "draft"}

// askMenus asks how many sheets there are for each choice of the filter, while it is open. It asks once: the numbers count the whole
// journal, so they stay right until a sheet changes.
func (a App) askMenus() (App, []Effect) {
	if !a.Journal.FiltersOpen || a.Journal.menuToken != 0 {
		return a, nil
	}
	a, a.Journal.menuToken = a.token(forMenu)
	prefixes := make([]string, len(filterNames))
	for i, name := range filterNames {
		prefixes[i] = name + "="
	}
	return a, []Effect{CountTerms{Token: a.Journal.menuToken, Kind: journal.Kind, Prefixes: prefixes}}
}

// menu takes in the counts. Those that came too late, after a sheet changed, are dropped; those that could not be read are asked for
// again with the next opening, and the choices stay as they were.
func (a App) menu(m TermsCounted) App {
	switch {
	case m.Token != a.Journal.menuToken:
		return a
	case m.Err != nil:
		a.Journal.menuToken = 0
		return a
	}
	a.Journal.counts = map[string][]storage.TermCount{}
	for prefix, list := range m.Terms {
		a.Journal.counts[strings.TrimSuffix(prefix, "=")] = list
	}
	a.Journal.Filters = a.filterFields()
	return a
}

func filterText(f *journal.Filter) map[string]*string {
	return map[string]*string{"work": &f.Work, "metal": &f.Metal, "joint": &f.Joint, "position": &f.Position, "class": &f.Class, "tip": &f.Tip, "drill": &f.Drill,
		"score": &f.Score, "month": &f.Month, "test": &f.Test}
}

// filterFields are the choices of the filter ready to show: of each, what some sheet has, with the number of sheets in the whole journal.
func (a App) filterFields() []FormField {
	f := a.Journal.Filter
	var list []FormField
	add := func(key, label, value string, known []Option) {
		if options := a.counted(key, value, known); len(options) > 0 {
			list = append(list, FormField{Key: key, Label: label, Type: TypeChoice, Text: value, Options: options})
		}
	}
	add("work", "Work", f.Work, wordOptions(journal.Works()))
	add("metal", "Metal", f.Metal, wordOptions(journal.Metals()))
	add("class", "Thickness", f.Class, a.classOptions())
	add("joint", "Joint", f.Joint, wordOptions(journal.Joints()))
	add("position", "Position", f.Position, positionOptions())
	add("score", "Overall score", f.Score, scoreOptions())
	add("test", "Bend or break test", f.Test, []Option{{Value: "pass", Label: "Passed"}, {Value: "fail", Label: "Failed"}})
	add("photo", "Photos", yesIf(f.Photo), []Option{{Value: "yes", Label: "With a photo"}})
	add("tip", "Tip", f.Tip, nil)
	add("drill", "Drill", f.Drill, a.drillOptions())
	add("month", "Month", f.Month, nil)
	add("draft", "Drafts", yesIf(f.Draft), []Option{{Value: "yes", Label: "Drafts only"}})
	return list
}

// counted are the options that some sheet has, and the one chosen. Values without a name of their own are shown as they are; months come
// the newest first.
func (a App) counted(key, chosen string, known []Option) []Option {
	counts := map[string]int{}
	var options []Option
	for _, t := range a.Journal.counts[key] {
		value := strings.TrimPrefix(t.Term, key+"=")
		counts[value] = t.Count
		if !slices.ContainsFunc(known, func(o Option) bool { return o.Value == value }) {
			options = append(options, Option{Value: value, Label: value})
		}
	}
	if key == "month" {
		slices.Reverse(options)
	}
	options = slices.DeleteFunc(append(slices.Clone(known), options...), func(o Option) bool { return counts[o.Value] == 0 && o.Value != chosen })
	if chosen != "" && !slices.ContainsFunc(options, func(o Option) bool { return o.Value == chosen }) {
		options = append(options, Option{Value: chosen, Label: chosen}) // from an address, or before the counts have come
	}
	for i := range options {
		options[i].Note = ""
		if n := counts[options[i].Value]; n > 0 {
			options[i].Note = words.Count(n, "sheet")
		}
	}
	return options
}

func yesIf(b bool) string {
	if b {
		return "yes"
	}
	return ""
}

func wordOptions(said []journal.Word) []Option {
	list := make([]Option, len(said))
	for i, w := range said {
		list[i] = Option{Value: w.ID, Label: w.Name}
	}
	return list
}

func scoreOptions() []Option {
	return []Option{{Value: "4", Label: "4"}, {Value: "3", Label: "3 to 4"}, {Value: "2", Label: "2 to 3"}, {Value: "1", Label: "1 to 2"},
		{Value: "0", Label: "under 1"}, {Value: "none", Label: "Not scored"}}
}

// classOptions names the classes of thickness as the owner thinks of thickness.
func (a App) classOptions() []Option {
	var list []Option
	for _, c := range journal.Classes() {
		name := c.Name
		if a.Prefs.Units.Unit(units.QuantityThickness).Symbol() == "in" {
			name = c.US
		}
		list = append(list, Option{Value: c.ID, Label: name})
	}
	return list
}

func positionOptions() []Option {
	var list []Option
	for _, p := range journal.Positions() {
		list = append(list, Option{Value: p.ID, Label: p.Name, Note: words.S("%s, %s", p.Groove, p.Fillet)})
	}
	return list
}

func (a App) drillOptions() []Option {
	var list []Option
	for _, d := range journal.Drills() {
		list = append(list, Option{Value: d.ID, Label: d.Name})
	}
	for _, d := range a.ownDrills() {
		list = append(list, Option{Value: d.ID, Label: d.Name})
	}
	return list
}
