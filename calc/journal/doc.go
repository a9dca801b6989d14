// Package journal is the practice journal as data and as answers: what a sheet holds, how work is scored, which drills lead
// on, and what many sheets together say. It keeps nothing and draws nothing.
//
// Start with [Read] and [Write], which turn the body of a record of kind "sheet" into a [Sheet] and back. Reading is lenient:
// a field this build does not know, or cannot read, is kept and written back. Writing is strict: [Sheet.Check] says what was
// read, what is allowed and why, [Sheet.Unfinished] what a sheet still needs before it may be called finished.
//
// From there:
//
//   - [ScoresFor] gives the fixed set of scores of a work with their published limits; [Sheet.Overall] sums a sheet up and
//     always says what was skipped.
//   - [Drills] is the practice path; [Progress] tells how far a drill has come, in the oxide (temper) colours.
//   - [Index] gives what a store needs to list, filter and search records without reading them: a sort key, terms and a small
//     [Brief]. [Terms] turns typed search text and [Filter] turns choices into the terms to ask for.
//   - [Trend] and [Best] answer from briefs alone: is it getting better, and what worked before. [Compare] sets two sheets side
//     by side, field by field.
//   - [CSV] and [Text] hand sheets out, [Sample] is an invented person's journal to try the pages with.
//
// All numbers are SI, as elsewhere in calc: gauge pressures in Pa, gas in m³ at 15 °C and 101.325 kPa. A number that was not
// noted is nil, never zero. Times are text in RFC 3339 with the offset of the place; the package has no clock, so whoever asks
// hands over the present time. It does not check physics: a sheet tells what was done, not what should have been.
package journal
