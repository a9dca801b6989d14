// Package order holds orders of work: what is done with a rig in which order, with why and source of every step, and what to do
// when something goes wrong.
//
// The text itself is data (web/static/orders.json), because it is long and shown page by page; Parse reads it and refuses a text
// that has a gap. Book.Steps then picks the steps of one order for a rig: torch, fuel, head, and the owner's choice where
// sources differ. Purge computes how long one hose must be blown through.
//
// It knows no screen and no language of units: a step names the number it carries, and the caller supplies it.
package order
