// Package present turns answers of calc into what a person reads: strings in the owner's units, sentences, and drawings as
// SVG text with a text equivalent. Call [NewCard] with a settings card, [NewRefusal] with a refusal, [NewSheet] for where a
// number comes from.
//
// It is plain Go and decides nothing: no limit, no advice, no number that calc has not given. Two duties are its own:
//
//   - Rounding never carries a number over a limit it keeps (see atMost).
//   - A warning stands before the number it concerns; a card is built in that order, so that pages cannot forget.
//
// Drawings hold no style and no script, only classes of web/static/torchside.css, and every text in them is escaped.
package present
