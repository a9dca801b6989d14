// Package state is the app without its screens: what is known ([App]), what can happen ([Msg]), what is to be done about it
// ([Effect]), and the one function that turns the first two into the third ([Reduce]).
//
// It is plain Go: no clock, no browser, no waiting. Reduce computes everything a page shows, so that pages only arrange
// ready values; a message is the only way to change anything, and an effect the only way to reach storage or the browser.
//
// Two laws hold for every message:
//
//   - An error never changes the last good settings card, a saved part or another field: bad input stays as typed, with a
//     message beside it that says what was read, what is allowed and why.
//   - Nothing is called saved before the store has said so ([WriteDone]); what the store refused is kept in memory and part
//     of every export.
//
// An App is a value: Reduce copies what it changes, so an old App stays what it was.
package state
