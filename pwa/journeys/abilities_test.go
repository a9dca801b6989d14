//go:build browser

package journeys

import (
	"testing"

	"torchside/pwa/journeys/browsertest"
)

// ablePhone is one that can do everything, and tells what it was asked for; disabledPhone one that can do nothing.
const (
	ablePhone = `window.asked = [];
		Object.defineProperty(window, "speechSynthesis", { configurable: true, value: { cancel() {}, getVoices: () => [{ localService: true }, { localService: false }],
			speak: (w) => { window.asked.push("speech"); w.onstart?.(); } } });
		navigator.vibrate = () => (window.asked.push("vibration"), true);
		Object.defineProperty(navigator, "wakeLock", { configurable: true, value: { request: async () => (window.asked.push("awake"), { release: async () => {}, addEventListener() {} }) } });`
	disabledPhone = `for (const name of ["speechSynthesis", "AudioContext", "Notification"]) delete window[name];
		delete Navigator.prototype.vibrate; delete Navigator.prototype.wakeLock;
		Object.defineProperty(navigator, "vibrate", { configurable: true, value: undefined }); delete navigator.vibrate;`
)

// A phone that can do it is tested by a tap, and what its owner noticed is kept, without the server too. What is switched off there is not
// used by the app any more.
func TestAbilitiesOfAPhone(t *testing.T) {
	server := browsertest.NewServer(t)
	profile := browsertest.NewProfile(t, server)
	profile.OnNew(ablePhone)
	page := profile.Open("/")
	accept(page)
	goTo(page, "bench")
	page.Tap("to-abilities")
	page.Wants("speech-verdict", "Not tested yet.")
	page.Wants("speech-can", "Voices it names: 2. Without a network: 1.")
	page.Tap("test-speech")
	page.Wants("speech-can", "It began to speak.")
	page.Tap("speech-yes")
	page.Wants("speech-verdict", "Yes: you noticed it on")
	page.Tap("test-vibration")
	page.Wants("vibration-can", "one without a motor says so too")
	page.Tap("vibration-no")
	page.Wants("vibration-verdict", "Do not count on it.")
	page.Tap("test-awake")
	page.Wants("awake-can", "kept on for ten seconds")
	page.Tap("test-sound")
	page.Wait("the sound says how it went", `/beeps were sent out|holds sound back/.test(document.querySelector("[data-val=sound-can]").textContent)`)
	page.Tap("test-flash")
	page.Wants("flash-can", "flashed three times")
	page.Tap("use-speech")
	page.Wants("use-speech", "Used here: off")
	looked(t, page, "abilities")
	page.Close()
	server.Stop()
	profile.Expect("ERR_CONNECTION_REFUSED")

	page = profile.Blank()
	page.GoRaw("/abilities")
	page.Wants("speech-verdict", "Yes: you noticed it on")
	page.Wants("vibration-verdict", "Do not count on it.")
	page.Go("/orders?order=warm")
	page.Wants("order-do", "Get out.")
	page.Tap("order-aloud")
	page.Wait("the order asks to be read, and the phone stays silent", `document.querySelector("[data-act=order-aloud]")?.innerText.includes("Stop reading") && !window.asked.includes("speech")`)
}

// A phone that cannot do it says so, and offers no test.
func TestAbilitiesOfAPhoneWithout(t *testing.T) {
	_, profile, page := fresh(t)
	page.Close()
	profile.OnNew(disabledPhone)
	page = profile.Blank()
	page.GoRaw("/abilities")
	for _, name := range []string{"speech", "sound", "vibration", "awake", "notification"} {
		page.Wants(name+"-verdict", "No: this browser cannot do it.")
		page.Lacks("test-" + name)
	}
	page.Tap("to-bench")
	page.WaitReady()
}
