// Package browsertest plays a person at the app, for tests: a [Server] is the real program with a folder of its own, a [Profile]
// a browser nobody has used yet, a [Page] one window in it.
//
//	server := browsertest.NewServer(t)
//	page := browsertest.NewProfile(t, server).Open("/rig")
//	page.Tap("rig-add-tip")
//	page.Type("form-name", "No. 1")
//	page.WantsText("Not saved yet")
//
// Controls and numbers are named by their data-act and data-val, never by their labels. Every method waits until it can do its
// work and ends the test when it cannot. What nobody asked about fails a test by itself: an error on the console, an exception,
// a request to any other machine.
//
// One browser serves a whole test program; call [Run] from TestMain.
package browsertest
