package state

import (
	"encoding/json"
	"maps"
	"slices"
	"strconv"
	"strings"

	"torchside/calc/journal"
	"torchside/calc/units"
	"torchside/calc/upkeep"
	"torchside/calc/words"
	"torchside/storage"
)

// UpkeepForm is one task that is open: what was done, the interval, and for a cylinder the stamp.
type UpkeepForm struct {
	Item    UpkeepItem
	Done    []FormField // day and note
	Every   FormField   // the owner's interval
	Stamp   *FormField  // of a cylinder
	Says    []string    // what the stamp means
	Photos  []journal.Photo
	Look    *PhotoLook // the photo that is shown large
	LookOf  string     // the entry it is of; "" for the one being written
	Taking  int        // choices of photos under way
	Refused []string
	Problem string
	Busy    bool

	texts map[string]string
	month upkeep.Day // read off the stamp
}

// Keys of the form, and of its drafts.
const (
	upkeepDay   = "day"
	upkeepNote  = "note"
	upkeepEvery = "every"
	upkeepStamp = "stamp"
	draftUpkeep = "upkeep:"
)

// Messages of upkeep.
type (
	// UpkeepShown works out anew what is due: it may be another day. UpkeepOpened opens a task, UpkeepClosed the list, UpkeepLeft does so
	// when another page was gone to; what was typed is kept.
	UpkeepShown  struct{}
	UpkeepOpened struct{ Key string }
	UpkeepClosed struct{}
	UpkeepLeft   struct{}
	UpkeepTyped  struct{ Key, Text string }
	// UpkeepSaved notes that it was done, UpkeepStamped takes the month of the stamp for the day of the test, UpkeepEvery keeps the owner's
	// interval, UpkeepRemoved deletes an entry of the history.
	UpkeepSaved   struct{}
	UpkeepStamped struct{}
	UpkeepEvery   struct{}
	UpkeepRemoved struct{ ID string }
	// UpkeepPhotos has photos stored for the entry being written, UpkeepPhotoOff takes one off it.
	UpkeepPhotos struct {
		Source int
		Role   string
	}
	UpkeepPhotoOff struct{ Index int }
	// UpkeepLooked shows a photo of a task large: of one of its entries, Of "" of the one being written. PhotoLookClosed ends that.
	UpkeepLooked struct {
		Task, Of string
		Index    int
	}
)

func (UpkeepShown) msg()    {}
func (UpkeepOpened) msg()   {}
func (UpkeepClosed) msg()   {}
func (UpkeepLeft) msg()     {}
func (UpkeepTyped) msg()    {}
func (UpkeepSaved) msg()    {}
func (UpkeepStamped) msg()  {}
func (UpkeepEvery) msg()    {}
func (UpkeepRemoved) msg()  {}
func (UpkeepPhotos) msg()   {}
func (UpkeepPhotoOff) msg() {}
func (UpkeepLooked) msg()   {}

func reduceUpkeep(a App, m Msg) (App, []Effect, bool) {
	switch m := m.(type) {
	case UpkeepShown:
		return a.upkeepDue(), nil, true
	case UpkeepOpened:
		return did(a.upkeepOpened(m.Key))
	case UpkeepClosed:
		a.Upkeep.Open = nil
		return a, []Effect{ShowTop{}}, true
	case UpkeepLeft:
		a.Upkeep.Open = nil // whoever comes back looks for the list
		return a, nil, true
	case UpkeepLooked:
		return did(a.upkeepLooked(m))
	case UpkeepTyped:
		return did(a.upkeepEdited(func(f *UpkeepForm) { f.texts[m.Key] = m.Text }))
	case UpkeepSaved:
		return did(a.upkeepSaved())
	case UpkeepStamped:
		return did(a.upkeepStamped())
	case UpkeepEvery:
		return did(a.upkeepEveryKept())
	case UpkeepRemoved:
		return did(a.upkeepRemoved(m.ID))
	case UpkeepPhotos:
		return did(a.upkeepPhotos(m))
	case UpkeepPhotoOff:
		return did(a.upkeepEdited(func(f *UpkeepForm) {
			if m.Index >= 0 && m.Index < len(f.Photos) {
				f.Photos = slices.Delete(f.Photos, m.Index, m.Index+1)
			}
		}))
	}
	return a, nil, false
}

// upkeepOpened opens a task with what was typed for it before.
func (a App) upkeepOpened(key string) (App, []Effect) {
	item, ok := a.Upkeep.item(key)
	if !ok {
		return a, nil
	}
	a.Undo = nil
	f := &UpkeepForm{Item: item, texts: map[string]string{}}
	if d, kept := a.drafts[draftUpkeep+key]; kept {
		maps.Copy(f.texts, d.Texts)
		_ = json.Unmarshal([]byte(d.Choices["photos"]), &f.Photos) // photos of a newer build stay in the draft's record of the store
	}
	a.Upkeep.Open = f
	return a.readUpkeepForm(), []Effect{ShowTop{}}
}

// everySpec is the owner's interval.
var everySpec = numberSpec(upkeepEvery, "Your own interval, months", "", units.QuantityNumber, 1, 240, "from every month to every twenty years").whole()

// readUpkeepForm reads the open form again; the task it is of may have changed.
func (a App) readUpkeepForm() App {
	if a.Upkeep.Open == nil {
		return a
	}
	f := *a.Upkeep.Open
	item, ok := a.Upkeep.item(f.Item.Key)
	if !ok {
		a.Upkeep.Open = nil // the part is gone; what was typed is kept
		return a
	}
	f.Item = item
	f.Done = []FormField{
		{Key: upkeepDay, Label: "Done on", Type: TypeDate, Text: f.day(a), Error: a.pastError("Done on", f.day(a))},
		{Key: upkeepNote, Label: "Note", Type: TypeLong, Text: f.texts[upkeepNote], Error: textError(Spec{Label: "Note"}, f.texts[upkeepNote], false)},
	}
	text, typed := f.texts[upkeepEvery]
	if !typed && item.Own {
		text = strconv.Itoa(item.Months)
	}
	f.Every = formField(everySpec, everySpec.Field, text, readField(everySpec, everySpec.Field, text))
	f.Every.Help = words.S("Empty: %s (%s).", MonthsWord(item.Task.Months), item.Task.Source)
	f.Stamp, f.Says, f.month = nil, nil, upkeep.Day{}
	if item.Task.Key == "requalify" {
		f.readStamp(a.today())
	}
	f.looking()
	a.Upkeep.Open = &f
	return a
}

// day is the day typed; today while nothing was.
func (f UpkeepForm) day(a App) string {
	if text, typed := f.texts[upkeepDay]; typed {
		return text
	}
	return a.today().String()
}

func (f *UpkeepForm) readStamp(today upkeep.Day) {
	text := f.texts[upkeepStamp]
	field := FormField{Key: upkeepStamp, Label: "Newest test mark on the shoulder", Type: TypeText, Text: text,
		Help: "Month, tester's number if there is one, year, and what stands behind: 06 A123 19 +. On others year and month: 2019/06."}
	if strings.TrimSpace(text) != "" {
		s, err := upkeep.ReadStamp(text, today)
		if err != nil {
			field.Error = words.S("Test mark: %s.", err.Error())
		} else {
			f.month = s.Month
			f.Says = append([]string{words.S("Tested in %s.", s.Month.YearMonth())}, s.Notes...)
		}
	}
	f.Stamp = &field
}

// pastError refuses days that are none, and days ahead: upkeep is noted when it was done.
func (a App) pastError(label, text string) string {
	if text == "" {
		return words.S("%s: nothing chosen; allowed: the day it was done, today or before.", label)
	}
	if e := dateError(label, text); e != "" {
		return e
	}
	if d, ok := upkeep.ParseDay(text); !ok || !a.today().IsZero() && d.After(a.today()) {
		return words.S("%s: read %s; allowed: today, %s, or before, because only what was done counts.", label, text, a.today().String())
	}
	return ""
}

// MonthsWord writes an interval of months for a person: "5 years", "3 months".
func MonthsWord(n int) string {
	switch {
	case n == 0:
		return "no interval"
	case n%12 == 0 && n > 0:
		return words.Count(n/12, "year")
	}
	return words.Count(n, "month")
}

// upkeepEdited changes the open form and keeps it.
func (a App) upkeepEdited(change func(*UpkeepForm)) (App, []Effect) {
	if a.Upkeep.Open == nil {
		return a, nil
	}
	f := *a.Upkeep.Open
	f.texts, f.Photos = maps.Clone(f.texts), slices.Clone(f.Photos)
	f.Problem = ""
	change(&f)
	a.Upkeep.Open = &f
	a = a.notSavedNow().readUpkeepForm()
	return a.keepUpkeep(draftUpkeep+f.Item.Key, f)
}

func (a App) keepUpkeep(key string, f UpkeepForm) (App, []Effect) {
	photos, err := json.Marshal(f.Photos)
	if err != nil {
		return a.panicked(words.S("keeping an entry of upkeep: %s", err.Error())), nil
	}
	d := Draft{Texts: maps.Clone(f.texts), Choices: map[string]string{"photos": string(photos)}}
	a.drafts = maps.Clone(a.drafts)
	if a.drafts == nil {
		a.drafts = map[string]Draft{}
	}
	a.drafts[key] = d
	return a, []Effect{KeepDraft{Key: key, Draft: d}}
}

// upkeepSaved notes that the open task was done.
func (a App) upkeepSaved() (App, []Effect) {
	f := a.Upkeep.Open
	if f == nil || f.Busy {
		return a, nil
	}
	if key := firstError(f.Done); key != "" || f.Taking > 0 {
		g := *f
		g.Problem = "Not noted yet: see the marked field. What you typed is kept."
		if f.Taking > 0 {
			g.Problem = "Not noted yet: photos are still being stored."
		}
		a.Upkeep.Open = &g
		return a, []Effect{ShowTop{Act: "upkeep-" + key}}
	}
	d := UpkeepDone{Part: f.Item.Part, Task: f.Item.Task.Key, Day: f.day(a), Note: strings.TrimSpace(f.texts[upkeepNote]), Photos: f.Photos}
	return a.upkeepNoted(d, []string{upkeepDay, upkeepNote})
}

// upkeepStamped notes the test the stamp tells of, on the first day of its month: the stamp knows no day, and the earlier is the safer.
func (a App) upkeepStamped() (App, []Effect) {
	f := a.Upkeep.Open
	if f == nil || f.Busy || f.month.IsZero() {
		return a, nil
	}
	d := UpkeepDone{Part: f.Item.Part, Task: f.Item.Task.Key, Day: f.month.String(), Note: words.S("Stamp: %s", strings.TrimSpace(f.texts[upkeepStamp]))}
	return a.upkeepNoted(d, []string{upkeepStamp})
}

// upkeepNoted writes an entry; what it took from the form goes from the form once it is stored.
func (a App) upkeepNoted(d UpkeepDone, used []string) (App, []Effect) {
	body, err := d.Body()
	if err != nil {
		return a.panicked(words.S("writing an entry of upkeep: %s", err.Error())), nil
	}
	key := a.Upkeep.Open.Item.Key
	return a.write(pending{drafts: []storage.Draft{{Kind: KindUpkeepDone, Schema: Schema, Body: body, Blobs: d.hashes()}}, then: func(a App, _ []storage.Record) (App, []Effect) {
		f := a.Upkeep.Open
		if f == nil || f.Item.Key != key {
			return a, []Effect{KeepDraft{Key: draftUpkeep + key}}
		}
		return a.upkeepEdited(func(f *UpkeepForm) {
			for _, one := range used {
				delete(f.texts, one)
			}
			if slices.Contains(used, upkeepNote) {
				f.Photos = nil
			}
		})
	}})
}

// upkeepEveryKept writes the owner's interval; an empty one goes back to that of the source.
func (a App) upkeepEveryKept() (App, []Effect) {
	f := a.Upkeep.Open
	if f == nil || f.Every.Error != "" {
		return a, nil
	}
	u := a.Upkeep.rules[f.Item.Key]
	u.Part, u.Task, u.Months = f.Item.Part, f.Item.Task.Key, minutesOf(strings.TrimSpace(f.Every.Text))
	if r := readField(everySpec, everySpec.Field, f.Every.Text); r.given {
		u.Months = int(r.si)
	}
	body, err := u.Body()
	if err != nil {
		return a.panicked(words.S("writing an interval: %s", err.Error())), nil
	}
	return a.write(pending{drafts: []storage.Draft{{Seen: u.record, Kind: KindUpkeepRule, Schema: max(Schema, u.record.Schema), Body: body}}})
}

// upkeepRemoved deletes an entry of the history; it can be taken back.
func (a App) upkeepRemoved(id string) (App, []Effect) {
	r, ok := a.records[storage.ID(id)]
	if !ok || r.Kind != KindUpkeepDone {
		return a, nil
	}
	return a.write(pending{drafts: []storage.Draft{{Seen: r, Del: true}}, undo: &Undo{Text: "The entry is deleted.", before: []storage.Record{r}}})
}
