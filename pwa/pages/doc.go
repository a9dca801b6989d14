// Package pages holds the five places of the app and what stands around them. A page shows what its exported fields say, which
// the root component fills in from the state, and posts a message for whatever a person does; it computes nothing.
//
// Each page has one heading, which is the question it answers.
package pages
