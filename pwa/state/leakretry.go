package state

import (
	"bytes"
	"maps"
	"slices"
	"sort"

	"torchside/storage"
)

// again sorts the writes the store refused into those to try again now and those to keep for later. Refused changes of one leak
// test were each made on the test as it was last stored, so that written one after the other they would split it into versions:
// they become one change, on top of the test as it is stored now. A change of a test that is being written waits for the answer.
func (a App) again() (now, wait []pending) {
	for _, p := range a.unsaved {
		i := slices.IndexFunc(now, p.sharesTest)
		switch {
		case p.form == "" && p.pref == "" && a.beingWritten(p):
			wait = append(wait, p)
		case i >= 0:
			now[i] = now[i].foldedInto(p)
		default:
			now = append(now, p)
		}
	}
	for i := range now {
		now[i] = a.onStored(now[i])
	}
	return now, wait
}

// beingWritten reports whether a write under way is of a test that p changes.
func (a App) beingWritten(p pending) bool {
	for _, w := range a.waiting {
		if p.sharesTest(w) {
			return true
		}
	}
	return false
}

// sharesTest reports whether both change one leak test.
func (p pending) sharesTest(q pending) bool {
	return slices.ContainsFunc(p.drafts, func(d storage.Draft) bool {
		return d.Seen.Kind == KindLeakTest && q.draftOf(d.Seen.ID) >= 0
	})
}

// draftOf is the index of the change of a stored record, -1 without one.
func (p pending) draftOf(id storage.ID) int {
	return slices.IndexFunc(p.drafts, func(d storage.Draft) bool { return d.Seen.ID == id && id != "" })
}

// foldedInto makes one write of an earlier one and a later one.
func (p pending) foldedInto(later pending) pending {
	drafts := slices.Clone(later.drafts)
	for _, d := range p.drafts {
		if i := later.draftOf(d.Seen.ID); i >= 0 {
			drafts[i] = combined(d, drafts[i])
		} else {
			drafts = append(drafts, d)
		}
	}
	first, second := p.then, later.then
	later.drafts, later.then = drafts, func(a App, records []storage.Record) (App, []Effect) {
		a, effects := followed(a, first, records)
		a, more := followed(a, second, records)
		return a, append(effects, more...)
	}
	return later
}

func followed(a App, then func(App, []storage.Record) (App, []Effect), records []storage.Record) (App, []Effect) {
	if then == nil {
		return a, nil
	}
	return then(a, records)
}

// onStored puts the changes of leak tests and timers on top of their records as they are stored now. A change that is stored
// already, because only the answer to it was lost, is left out. Records in two versions or deleted meanwhile are left to the
// person.
func (a App) onStored(p pending) pending {
	var drafts []storage.Draft
	for _, d := range p.drafts {
		r, ok := a.records[d.Seen.ID]
		moved := ok && !slices.Equal(r.HeadIDs(), d.Seen.HeadIDs())
		if !moved || d.Seen.Kind != KindLeakTest && d.Seen.Kind != KindTimer || len(r.Heads) != 1 || r.Deleted {
			drafts = append(drafts, d)
			continue
		}
		if d.Del {
			d.Seen = r
			drafts = append(drafts, d)
			continue
		}
		d = combined(d, storage.Draft{Seen: r, Kind: r.Kind, Schema: r.Schema, Body: r.Body, Blobs: r.Blobs})
		if !bytes.Equal(d.Body, r.Body) {
			drafts = append(drafts, d)
		}
	}
	p.drafts = drafts
	return p
}

// combined is the later of two changes of one record, with what the earlier one did to a leak test. Of a timer the later state
// stands alone, as does a deletion.
func combined(earlier, later storage.Draft) storage.Draft {
	base, err1 := ReadLeakTest(earlier.Seen)
	first, err2 := ReadLeakTest(storage.Record{Body: earlier.Body})
	second, err3 := ReadLeakTest(storage.Record{Body: later.Body})
	if earlier.Del || later.Del || err1 != nil || err2 != nil || err3 != nil {
		return later
	}
	merged := second.withEarlier(base, first)
	merged.record = later.Seen
	return merged.draft()
}

// withEarlier is t with what was changed from base to earlier: readings noted or taken back, marks of joints, and the end, the
// last two only where t left them as they were.
func (t LeakTest) withEarlier(base, earlier LeakTest) LeakTest {
	readings := slices.Clone(t.Readings)
	for _, r := range earlier.Readings {
		if !base.readAt(r.At) && !t.readAt(r.At) {
			readings = append(readings, r)
		}
	}
	readings = slices.DeleteFunc(readings, func(r LeakReading) bool { return base.readAt(r.At) && !earlier.readAt(r.At) })
	sort.SliceStable(readings, func(i, j int) bool { return readings[i].At < readings[j].At })
	t.Readings = readings
	t.Joints = maps.Clone(t.Joints)
	for joint, mark := range earlier.Joints {
		if mark != base.Joints[joint] && t.Joints[joint] == base.Joints[joint] {
			t.Joints[joint] = mark
		}
	}
	if earlier.Ended != base.Ended && t.Ended == base.Ended {
		t.Ended, t.Outcome = earlier.Ended, earlier.Outcome
	}
	if t.Ended != 0 {
		t.Ended = max(t.Ended, t.last().At)
	}
	return t
}

// readAt reports whether the test has a reading of that instant.
func (t LeakTest) readAt(at int64) bool {
	return slices.ContainsFunc(t.Readings, func(r LeakReading) bool { return r.At == at })
}
