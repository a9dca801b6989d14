package state

import (
	"strconv"

	"torchside/calc/journal"
	"torchside/calc/words"
)

// NoticeBackup is the code of the notice that nothing was exported for long.
const NoticeBackup = "backup"

// backupAfter is how long everything may be on this device alone before a reminder: 30 days, in ms. Our own choice.
const backupAfter = 30 * 24 * 3600 * 1000

// reminded puts the reminder up when nothing is kept anywhere else, 30 days passed since the last export, or since the first entry,
// and there is something to lose. What is on the server counts as kept elsewhere: the last time both were in step is taken as an
// export is.
func (a App) reminded() App {
	since := max(a.Prefs.Exported, a.synced())
	if since == 0 {
		since = a.oldest()
	}
	if since == 0 || a.Clock.Wall-since < backupAfter || !a.worthKeeping() {
		return a.withoutNotice(NoticeBackup)
	}
	text := words.S("Everything is on this device alone, and it was last saved to a file %s ago.", daysWords(a.Clock.Wall-since))
	switch {
	case a.synced() > a.Prefs.Exported:
		text = words.S("What is new is on this device alone: it was last in step with its server %s ago.", daysWords(a.Clock.Wall-since))
	case a.Prefs.Exported == 0:
		text = "Everything is on this device alone, and it was never saved to a file."
	}
	return a.withNotice(Notice{Code: NoticeBackup, Level: LevelCaution, Action: ActionExport, Text: words.S("%s A lost phone or a cleared browser would take it along.", text)})
}

func daysWords(ms int64) string { return words.S("%s days", strconv.FormatInt(ms/(24*3600*1000), 10)) }

// oldest is when the first record here was written last, by its clock; 0 when there is none.
func (a App) oldest() int64 {
	var first int64
	for _, r := range a.records {
		if at := r.Heads[0].HLC.Milli; first == 0 || at < first {
			first = at
		}
	}
	return first
}

// worthKeeping reports whether anything here was entered by the owner: preferences and samples can be made again.
func (a App) worthKeeping() bool {
	for _, r := range a.records {
		if r.Deleted || r.Kind == KindPreference {
			continue
		}
		p, ok := a.part(string(r.ID))
		if !ok || !p.Sample {
			return true
		}
	}
	return a.Journal.sheets > a.Journal.samples
}

// askKept asks how many sheets there are, and how many of them are of the sample.
func (a App) askKept() (App, []Effect) {
	a, all := a.find(forAll, journal.Filter{}, 1)
	a, sample := a.find(forNone, journal.Filter{Sample: true}, 1)
	return a, append(all, sample...)
}

// kept takes in one of the two counts.
func (a App) kept(what string, n int) App {
	if what == forAll {
		a.Journal.sheets = n
		return a // the count of the sample follows
	}
	a.Journal.samples, a.Journal.Sample = n, n > 0
	return a.reminded()
}

// exported notes when everything was last exported, and takes the reminder down.
func (a App) exported() (App, []Effect) {
	return a.withoutNotice(NoticeBackup).chosen(prefExported, strconv.FormatInt(a.Clock.Wall, 10))
}
