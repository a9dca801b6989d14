// Package upkeep knows what is due on a rig and when: the tasks of each kind of part with the interval each source gives, the day a task is
// due, and what the test marks stamped on a cylinder say.
//
// Start with [Tasks] for what there is to do, [Due] for the day, and [ReadStamp] for a cylinder's shoulder.
//
// It knows no clock: today is always handed in. An interval is counted in months of the calendar, and the day is
// moved back to the end of a shorter month. It judges no part: a date in order says nothing of a cut hose.
//
// Sources: 49 CFR 180.209, Table 1, for cylinders; NFPA 10 (1998 edition, second-hand) for extinguishers. Where a figure is from memory, or
// common practice with no source, the task says so in its own source; such a figure only ever asks for more.
package upkeep
