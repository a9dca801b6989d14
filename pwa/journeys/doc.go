// Package journeys holds whole journeys through the app, played by a real browser against the real program: few and whole, one
// for each promise that no smaller test can hold. They need the complete program (make build), a browser and the pinned checker
// of accessibility, so they carry the build tag "browser"; .ci/journeys.sh runs them.
//
// The tools are in package browsertest. Screenshots of every page are written as well when TORCHSIDE_SHOTS names a folder.
package journeys
