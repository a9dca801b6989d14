package upkeep

// Task is something that has to be done to a part again and again.
type Task struct {
	Key    string // of the task, within its kind
	Kind   string // of part: "hose", "arrestor", "check_valve", "regulator", "torch", "tip", "cylinder", "acetylene_cylinder", "shop"
	Title  string
	Months int // between two times; 0 for a task that is only written down when it was done
	Source string
	// From is the key of the part's own date that counts while nothing was done yet: the day it was made, or last tested.
	From string
	// By is the key of the part's own date on which it is due whatever the interval says.
	By string
}

const (
	common = "common practice, no source"
	// Codes of practice of the trade ask for these; which, and in which edition, could not be read again.
	remembered = "industry code of practice, from memory"
	cfr        = "49 CFR 180.209, Table 1"
	nfpa       = "NFPA 10, 1998 edition, read second-hand"
)

// tasks stand in the order they are shown. Of sources that differ the shorter interval is taken: of 5, 10 or 12 years for DOT-3A and 3AA
// cylinders 5, of 10 or 20 for acetylene (DOT-8, 8AL) 10. A longer one is the owner's to set, after the supplier's word.
var tasks = []Task{
	{Key: "look", Kind: "hose", Title: "Look it over: cuts, burns, soft or swollen places, fittings", Months: 1, Source: common},
	{Key: "age", Kind: "hose", Title: "Replace for its age", Months: 60, Source: common, From: "made", By: "replace_by"},
	{Key: "test", Kind: "arrestor", Title: "Flow test and reverse-flow test", Months: 12, Source: remembered, From: "tested", By: "replace_by"},
	{Key: "age", Kind: "arrestor", Title: "Replace, also after any flashback", Months: 60, Source: remembered},
	{Key: "test", Kind: "check_valve", Title: "Reverse-flow test", Months: 12, Source: remembered, From: "tested", By: "replace_by"},
	{Key: "service", Kind: "regulator", Title: "Creep test, gauges back to zero, inlet filter, clean of oil", Months: 12, Source: common, From: "serviced"},
	{Key: "age", Kind: "regulator", Title: "Overhaul or replace", Months: 60, Source: common, By: "replace_by"},
	{Key: "service", Kind: "torch", Title: "Valves, seats and O-rings", Months: 12, Source: common, From: "serviced"},
	{Key: "clean", Kind: "tip", Title: "Cleaned", Source: common},
	{Key: "requalify", Kind: "cylinder", Title: "Requalification (hydrostatic test)", Months: 60, Source: cfr, From: "tested"},
	{Key: "requalify", Kind: "acetylene_cylinder", Title: "Requalification of shell and porous filler", Months: 120, Source: cfr, From: "tested"},
	{Key: "look", Kind: "shop", Title: "Extinguisher: in place, seal whole, gauge in the green", Months: 1, Source: nfpa + ", 4-3.1"},
	{Key: "service", Kind: "shop", Title: "Extinguisher: yearly maintenance by a service", Months: 12, Source: nfpa + ", 4-4"},
}

// Tasks returns the tasks of a kind of part; none for a kind it does not know.
func Tasks(kind string) []Task {
	var list []Task
	for _, t := range tasks {
		if t.Kind == kind {
			list = append(list, t)
		}
	}
	return list
}

// History is what is known of one task on one part. A zero day is not known.
type History struct {
	Done   Day // when it was last done
	From   Day // the part's own date that counts until then
	By     Day // the part's own date on which it is due at the latest
	Months int // the owner's interval; 0 takes the task's
}

// Due returns the day a task is due: an interval after it was last done, or after the part's own date, and never after the day marked on
// the part unless it was done since. ok is false when there is nothing to count from, or the task has no interval.
func (t Task) Due(h History) (day Day, ok bool) {
	months := h.Months
	if months == 0 {
		months = t.Months
	}
	from := h.Done
	if h.From.After(from) {
		from = h.From
	}
	if !from.IsZero() && months > 0 {
		day, ok = AddMonths(from, months), true
	}
	if by := h.By; !by.IsZero() && h.Done.Before(by) && (!ok || by.Before(day)) {
		day, ok = by, true
	}
	return day, ok
}

// State is how a task stands on a day.
type State string

// The states, the most pressing first. Soon is within a month: time to order a part or to bring a cylinder back.
const (
	Overdue State = "overdue"
	Soon    State = "soon"
	Unknown State = "unknown"
	Fine    State = "fine"
)

// shortInterval is the longest interval, in months, of which no warning comes ahead: it would stand there most of the time.
const shortInterval = 3

// At is the state of a task with an interval in months that is due on a day, seen today.
func At(due, today Day, known bool, months int) State {
	switch {
	case !known:
		return Unknown
	case !due.After(today):
		return Overdue
	case months > shortInterval && !due.After(AddMonths(today, 1)):
		return Soon
	}
	return Fine
}
