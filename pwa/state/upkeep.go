package state

import (
	"encoding/json"
	"fmt"
	"slices"
	"sort"
	"time"

	"torchside/calc/journal"
	"torchside/calc/upkeep"
	"torchside/storage"
)

// Kinds of the records of upkeep: something done, and the owner's interval for a task.
const (
	KindUpkeepDone = "upkeep_done"
	KindUpkeepRule = "upkeep_rule"
)

// ShopPart stands for the shop itself where a part is named: its extinguisher is no part of the rig.
const ShopPart = "shop"

// UpkeepDone is one time something was done, schema 1:
//
//	{"part": "0190…", "task": "look", "day": "2031-05-01", "note": "left cuff chafed", "photos": [{"hash": "…"}]}
//
// day is a day of the calendar (ISO 8601); photos are as those of a sheet. Fields this build does not know are kept.
type UpkeepDone struct {
	ID         string
	Part, Task string
	Day        string
	Note       string
	Photos     []journal.Photo

	extra  map[string]json.RawMessage
	record storage.Record
}

func (d *UpkeepDone) targets() map[string]any {
	return map[string]any{"part": &d.Part, "task": &d.Task, "day": &d.Day, "note": &d.Note, "photos": &d.Photos}
}

// ReadUpkeepDone reads the record of something done.
func ReadUpkeepDone(r storage.Record) (UpkeepDone, error) {
	d := UpkeepDone{ID: string(r.ID), record: r}
	extra, err := readKnown(r.Body, d.targets())
	if err != nil {
		return UpkeepDone{}, fmt.Errorf("upkeep %s: %w", r.ID, err)
	}
	d.extra = extra
	return d, nil
}

// Body returns it as it is stored.
func (d UpkeepDone) Body() ([]byte, error) { return writeKnown(d.extra, d.targets()) }

// hashes are those of its photos.
func (d UpkeepDone) hashes() []string { return journal.Sheet{Photos: d.Photos}.Hashes() }

// UpkeepRule is the owner's interval for a task of a part, schema 1: {"part": "0190…", "task": "look", "months": 3}. 0 months is none: what
// the source says holds again.
type UpkeepRule struct {
	Part, Task string
	Months     int

	extra  map[string]json.RawMessage
	record storage.Record
}

func (u *UpkeepRule) targets() map[string]any {
	return map[string]any{"part": &u.Part, "task": &u.Task, "months": &u.Months}
}

// ReadUpkeepRule reads the record of an owner's interval.
func ReadUpkeepRule(r storage.Record) (UpkeepRule, error) {
	u := UpkeepRule{record: r}
	extra, err := readKnown(r.Body, u.targets())
	if err != nil {
		return UpkeepRule{}, fmt.Errorf("upkeep %s: %w", r.ID, err)
	}
	u.extra = extra
	return u, nil
}

// Body returns it as it is stored.
func (u UpkeepRule) Body() ([]byte, error) { return writeKnown(u.extra, u.targets()) }

// Upkeep is what is due on the rig, and the form of one task.
type Upkeep struct {
	Items []UpkeepItem // the most pressing first
	Due   int          // how many are overdue
	Open  *UpkeepForm  // nil while the list is shown

	done  map[string][]UpkeepDone // by item key, the newest day first
	rules map[string]UpkeepRule
}

// UpkeepItem is one task of one part.
type UpkeepItem struct {
	Key     string
	Part    string // id of the part, ShopPart for the shop
	Name    string // of the part
	Task    upkeep.Task
	Months  int // the interval that counts; 0 for none
	Own     bool
	Due     string // day; "" while it is not known
	State   upkeep.State
	Last    string // day it was last done; "" when it never was
	From    string // day of the part it is counted from while nothing was done
	History []UpkeepDone
	Sample  bool
}

func itemKey(part, task string) string { return part + "/" + task }

// readUpkeep takes what was done and the owner's intervals from their records, and works out what is due; it returns how many records
// cannot be read.
func (a App) readUpkeep() (App, int) {
	damaged := 0
	a.Upkeep.done, a.Upkeep.rules = map[string][]UpkeepDone{}, map[string]UpkeepRule{}
	for _, r := range a.records {
		if r.Deleted || r.Kind != KindUpkeepDone && r.Kind != KindUpkeepRule {
			continue
		}
		if r.Kind == KindUpkeepDone {
			d, err := ReadUpkeepDone(r)
			if err != nil {
				damaged++
				continue
			}
			key := itemKey(d.Part, d.Task)
			a.Upkeep.done[key] = append(a.Upkeep.done[key], d)
			continue
		}
		u, err := ReadUpkeepRule(r)
		if err != nil {
			damaged++
			continue
		}
		key := itemKey(u.Part, u.Task)
		if old, ok := a.Upkeep.rules[key]; !ok || old.record.Heads[0].HLC.Compare(u.record.Heads[0].HLC) < 0 {
			a.Upkeep.rules[key] = u
		}
	}
	for _, list := range a.Upkeep.done {
		sort.SliceStable(list, func(i, j int) bool {
			return list[i].Day > list[j].Day || list[i].Day == list[j].Day && list[i].ID > list[j].ID
		})
	}
	return a.upkeepDue(), damaged
}

// today is the day at the place; the zero day before the clock was read.
func (a App) today() upkeep.Day {
	if a.Clock.Wall == 0 {
		return upkeep.Day{}
	}
	y, m, d := time.UnixMilli(a.Clock.Wall).Date()
	return upkeep.Day{Year: y, Month: int(m), Day: d}
}

// upkeepDue works out what is due today.
func (a App) upkeepDue() App {
	u := &a.Upkeep
	u.Items, u.Due = nil, 0
	for _, k := range partKinds {
		for _, p := range a.parts(k) {
			if !p.Retired {
				a = a.withItems(p.ID, a.partName(p), upkeepKind(p), p)
			}
		}
	}
	a = a.withItems(ShopPart, "The shop", ShopPart, Part{})
	rank := map[upkeep.State]int{upkeep.Overdue: 0, upkeep.Soon: 1, upkeep.Unknown: 2, upkeep.Fine: 3}
	u = &a.Upkeep
	sort.SliceStable(u.Items, func(i, j int) bool {
		p, q := u.Items[i], u.Items[j]
		if rank[p.State] != rank[q.State] {
			return rank[p.State] < rank[q.State]
		}
		return p.State != upkeep.Unknown && p.Due != "" && (q.Due == "" || p.Due < q.Due)
	})
	return a.readUpkeepForm()
}

// upkeepKind is the kind of a part as the tasks know it.
func upkeepKind(p Part) string {
	switch {
	case p.Kind == KindArrestor && p.Choices["type"] == "check_valve":
		return "check_valve"
	case p.Kind == KindCylinder && p.Choices["gas"] == "acetylene":
		return "acetylene_cylinder"
	}
	return string(p.Kind)
}

// withItems adds the tasks of one part.
func (a App) withItems(id, name, kind string, p Part) App {
	for _, t := range upkeep.Tasks(kind) {
		key := itemKey(id, t.Key)
		item := UpkeepItem{Key: key, Part: id, Name: name, Task: t, Months: t.Months, History: a.Upkeep.done[key], From: p.Dates[t.From], Sample: p.Sample}
		h := upkeep.History{}
		h.From, _ = upkeep.ParseDay(item.From) // a day that cannot be read is none
		h.By, _ = upkeep.ParseDay(p.Dates[t.By])
		if len(item.History) > 0 {
			item.Last = item.History[0].Day
			h.Done, _ = upkeep.ParseDay(item.Last)
		}
		if r, ok := a.Upkeep.rules[key]; ok && r.Months > 0 {
			item.Months, item.Own, h.Months = r.Months, true, r.Months
		}
		due, known := t.Due(h)
		if known {
			item.Due = due.String()
		}
		item.State = upkeep.At(due, a.today(), known, item.Months)
		if t.Months == 0 && !known {
			item.State = upkeep.Fine // only written down
		}
		if item.State == upkeep.Overdue {
			a.Upkeep.Due++
		}
		a.Upkeep.Items = append(a.Upkeep.Items, item)
	}
	return a
}

// item finds a task of a part.
func (u Upkeep) item(key string) (UpkeepItem, bool) {
	i := slices.IndexFunc(u.Items, func(one UpkeepItem) bool { return one.Key == key })
	if i < 0 {
		return UpkeepItem{}, false
	}
	return u.Items[i], true
}
