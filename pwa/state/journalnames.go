package state

import "torchside/calc/journal"

// What messages of the journal carry and pages show, under the names the pages know it by: they see no calculation.
type (
	// Filter is what a list of sheets is narrowed by.
	Filter = journal.Filter
	// Measure is what a trend is of.
	Measure = journal.Measure
	// Series is one trend.
	Series = journal.Series
)

// The measures of trends.
const (
	ByScore = journal.ByScore
	BySpeed = journal.BySpeed
	ByGas   = journal.ByGas
)
