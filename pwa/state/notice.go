package state

import (
	"slices"
	"strconv"

	"torchside/calc/words"
)

// Levels and actions of notices.
const (
	LevelStop    = "stop"
	LevelCaution = "caution"
	LevelNote    = "note"

	ActionExport  = "export"
	ActionRestart = "restart"
	ActionPutAway = "put-away"
)

// SafetyNotice is what must be accepted before the first start and stays reachable from Bench.
var SafetyNotice = []string{
	"This is a calculator and a notebook. It sees no rig: not the leak, not the worn hose, not the oil on a fitting.",
	"The literature of your torch's maker comes first, then your gas supplier, your local codes, and a person qualified to judge your rig. Where they and this app disagree, they are right.",
	"Oxygen and fuel gases burn, explode and suffocate. Learn lighting, shutting down and leak testing from somebody who can watch you do it, before you rely on a number shown here.",
	"Numbers carry where they come from. One marked “from memory” has not been checked against its source yet; it is only ever used to make advice stricter.",
}

// withNotice adds a notice; one of the same code is replaced where it stands.
func (a App) withNotice(n Notice) App {
	a.Notices = slices.Clone(a.Notices)
	for i := range a.Notices {
		if a.Notices[i].Code == n.Code {
			a.Notices[i] = n
			return a
		}
	}
	a.Notices = append(a.Notices, n)
	return a
}

func (a App) withoutNotice(code string) App {
	a.Notices = slices.DeleteFunc(slices.Clone(a.Notices), func(n Notice) bool { return n.Code == code })
	return a
}

// damagedNotice tells of records that cannot be read. They stay in the store and in every export.
func (a App) damagedNotice(n int) App {
	if n == 0 {
		return a.withoutNotice(NoticeDamaged)
	}
	return a.withNotice(Notice{Code: NoticeDamaged, Level: LevelCaution, Action: ActionExport,
		Text: words.S("%s saved parts cannot be read by this version and are not shown. They are kept as they are, also in an export.", strconv.Itoa(n))})
}

func (a App) panicked(what string) App {
	return a.withNotice(Notice{Code: NoticePanic, Level: LevelStop, Action: ActionExport,
		Text: words.S("A fault in this app was caught (%s). What was saved is safe, what you typed is kept. If something looks wrong, start again.", shorten(what))})
}

// shorten cuts a text of any length for a notice.
func shorten(s string) string {
	const limit = 120
	if r := []rune(s); len(r) > limit {
		return string(r[:limit]) + "…"
	}
	return s
}
