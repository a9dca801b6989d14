package state

import (
	"strconv"

	"torchside/calc/words"
)

// What a timer of the owner's own can be for.
const (
	PurposeFire   = "fire_watch"
	PurposeSettle = "settling"
	PurposePurge  = "purge"
	PurposeLeak   = "leak_down"
	PurposeCool   = "cooling"
	PurposeFree   = "free"
	// PurposeLit asks again and again whether the torch still burns; it is started by TorchLit.
	PurposeLit = "torch_lit"
)

// TimerRule is one published time, or one of common practice.
type TimerRule struct {
	Seconds int64
	Text    string
	Source  string
}

// purpose is one thing a timer can be for. Its rules stand with the longest first; where it has none, the minutes must be typed.
type purpose struct {
	key, title      string
	caution, source string
	rules           []TimerRule
}

const commonPractice = "common practice, no source"

// purposes are those of the page, in its order. The times of fire watch and settling are rows HOT-1, HOT-2 and ACE-S1 to ACE-S4 of
// testdata/reference/limits.csv, and the tests hold them to it.
var purposes = []purpose{
	{key: PurposeFire, title: "Fire watch",
		caution: "Watch from the last flame on, with an extinguisher at hand, also behind walls and under floors within 35 ft (10.7 m). Who watches does nothing else.",
		source:  "29 CFR 1910.252(a)(2)",
		rules: []TimerRule{
			{Seconds: 60 * 60, Text: "1 hour after the work", Source: "NFPA 51B, 2019 edition, 5.6.1.1, read second-hand"},
			{Seconds: 30 * 60, Text: "at least half an hour", Source: "29 CFR 1910.252(a)(2)(iii)(B)"},
		}},
	{key: PurposeSettle, title: "Cylinder settling",
		caution: "An acetylene cylinder that lay down gives off its solvent. Chain it upright first; the valve stays shut until the time is up.",
		source:  "NAVEDTRA 14250; TC 9-237",
		rules: []TimerRule{
			{Seconds: 120 * 60, Text: "2 hours upright", Source: "NAVEDTRA 14250, NAVEDTRA 14018, Navy 14119"},
			{Seconds: 45 * 60, Text: "45 minutes upright", Source: "TC 9-237"},
			{Seconds: 30 * 60, Text: "30 minutes upright", Source: "a welding question-and-answer textbook"},
		}},
	{key: PurposePurge, title: "Purge",
		caution: "One line at a time, in moving air, nobody in front of the tip, no flame and no spark near. Close that valve before the other line.",
		source:  commonPractice},
	{key: PurposeLeak, title: "Leak-down",
		caution: "Cylinder valves shut, torch valves shut, nobody turns a screw. The Leak test works out how long a gauge must stand to show a leak; ten minutes may show nothing.",
		source:  commonPractice,
		rules:   []TimerRule{{Seconds: 10 * 60, Text: "10 minutes", Source: commonPractice}}},
	{key: PurposeCool, title: "Cooling",
		caution: "Black steel can still burn to the bone. Mark it hot before you walk away.",
		source:  commonPractice},
	{key: PurposeFree, title: "Free timer"},
}

// twiceSource is the source of the rule that a cylinder stands twice as long as it lay.
const twiceSource = "FAA airframe handbook"

func purposeOf(key string) purpose {
	for _, p := range purposes {
		if p.key == key {
			return p
		}
	}
	return purposes[0]
}

// timerRules are the times for a purpose as things stand, the longest first: of settling with the rule of twice the time it lay, of
// purging for each line whose hose and flow are known.
func (a App) timerRules(p purpose) []TimerRule {
	switch p.key {
	case PurposeSettle:
		if lain := a.Timers.Form.lain; lain > 0 {
			twice := TimerRule{Seconds: 2 * lain, Text: words.S("twice the %s it lay", spanWords(lain*1000)), Source: twiceSource}
			return longestFirst(append([]TimerRule{twice}, p.rules...))
		}
	case PurposePurge:
		return a.purgeRules()
	}
	return p.rules
}

// longestFirst puts the one new rule at the front where it belongs among rules that are in order.
func longestFirst(list []TimerRule) []TimerRule {
	for i := 0; i+1 < len(list) && list[i].Seconds < list[i+1].Seconds; i++ {
		list[i], list[i+1] = list[i+1], list[i]
	}
	return list
}

func countWord(n int) string { return " (" + strconv.Itoa(n) + ")" }
