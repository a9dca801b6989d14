//go:build browser

package journeys

import (
	"math"
	"testing"

	"torchside/pwa/journeys/browsertest"
)

// onsets renders five minutes of beats on an audio clock of its own, filled at irregular times as on a busy phone, and finds where in the
// samples each beat begins, in s.
const onsets = `(async () => {
	const rate = 8000, length = 300, block = 128;
	const context = new OfflineAudioContext(1, rate * length, rate);
	const pace = torchsidePacePlan(context, context.destination, { seconds: 5 / 6, accent: 4, first: 0.3 });
	pace.fill(1.6);
	let at = 0, n = 0;
	while (true) {
		at += 0.1 + (n++ * 7 % 14) / 10; // 0.1 to 1.4 s late
		if (at >= length) break;
		const quantum = Math.round(at * rate / block) * block / rate;
		context.suspend(quantum).then(() => { pace.fill(context.currentTime + 1.6); return context.resume(); });
	}
	const samples = (await context.startRendering()).getChannelData(0);
	const found = [];
	let quiet = rate;
	for (let i = 0; i < samples.length; i++) {
		if (Math.abs(samples[i]) > 0.02) {
			if (quiet > rate * 0.05) found.push(i / rate);
			quiet = 0;
		} else quiet++;
	}
	return found;
})()`

// The beat does not drift: of five minutes every beat begins where it should, though the page looks late and irregularly; the bar is 1 %.
// Then it runs for real while the page is kept busy, and the bead by stopwatch goes on a sheet.
func TestPacerKeepsTime(t *testing.T) {
	_, _, page := fresh(t)
	toBench(page, "to-pacer")
	page.Wants("pacer.beats", "Type the speed")
	found := browsertest.Eval[[]float64](page, onsets)
	every := 5.0 / 6
	if want := int((300 - 0.3) / every); len(found) < want || len(found) > want+1 {
		t.Fatalf("%d beats in five minutes, want %d", len(found), want)
	}
	worst := 0.0
	for n, at := range found {
		worst = math.Max(worst, math.Abs(at-(0.3+float64(n)*every)))
	}
	drift := math.Abs((found[len(found)-1]-found[0])/(float64(len(found)-1)*every) - 1)
	t.Logf("five minutes: worst beat %.1f ms off, drift %.5f %%", worst*1000, drift*100)
	if worst > 0.01*every || drift > 0.01 {
		t.Errorf("worst beat %.1f ms off, drift %.4f %%; the bar is 1 %%", worst*1000, drift*100)
	}
	page.Type("pacer-speed", "1200")
	page.Wants("pacer.beats", "120 a minute")
	sound(t, page, "pacer")
	page.Tap("pacer-start")
	page.Wait("the sound's clock beats", `window.torchsidePaceNow?.clock === "audio" && torchsidePaceNow.beats() > 0`)
	// Five seconds with the page blocked for 0.4 s of every half second.
	counted := browsertest.Eval[[]float64](page, `(async () => {
		const from = performance.now(), before = torchsidePaceNow.beats();
		while (performance.now() - from < 5000) {
			const busy = performance.now();
			while (performance.now() - busy < 400);
			await new Promise((done) => setTimeout(done, 100));
		}
		await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
		return [(performance.now() - from) / 500, torchsidePaceNow.beats() - before];
	})()`)
	if math.Abs(counted[0]-counted[1]) > 2 {
		t.Errorf("%.1f beats were to come, %v came", counted[0], counted[1])
	}
	page.Wait("the lamp is lit", `document.getElementById("pace-lamp").dataset.beat === "on"`)
	shots(page, "pacer-beats")
	page.Tap("pacer-flash")
	page.Tap("pacer-stop")
	page.Wants("pacer-start", "Start")
	page.Type("pacer-speed", "9000")
	page.WantsText("allowed")
	timesABead(t, page)
}

// What is switched off for the phone stays off here too, and the page says so.
func TestPacerObeysTheSwitchesOfThePhone(t *testing.T) {
	_, _, page := fresh(t)
	toBench(page, "to-pacer")
	page.Type("pacer-speed", "1200")
	browsertest.Eval[bool](page, `(localStorage.setItem("torchside/abilities", JSON.stringify({ sound: { use: false }, vibration: { use: false }, flash: { use: false } })),
		window.shakes = 0, window.lit = 0, new MutationObserver((list) => { for (const m of list) if (m.target.dataset.beat === "on") window.lit++; })
			.observe(document, { subtree: true, attributes: true, attributeFilter: ["data-beat"] }), navigator.vibrate = () => { window.shakes++; return true; }, true)`)
	page.Tap("pacer-start")
	page.Wait("it beats", `window.torchsidePaceNow?.beats() > 1`)
	page.WantsText("Sound is switched off for this phone. Shake is switched off for this phone. Flash is switched off for this phone.")
	if browsertest.Eval[bool](page, `torchsidePaceNow.sounds || window.shakes > 0 || window.lit > 0`) {
		t.Error("it sounds, shakes or flashes, though all are switched off")
	}
	page.Tap("pacer-stop")
	page.LacksText("switched off for this phone")
	browsertest.Eval[bool](page, `(localStorage.removeItem("torchside/abilities"), true)`)
	noBounce(page)
	page.Tap("pacer-start")
	page.Wait("it sounds, shakes and flashes", `torchsidePaceNow.sounds && window.shakes > 0 && window.lit > 0`)
}

// timesABead times a bead and puts it on a sheet.
func timesABead(t *testing.T, p *browsertest.Page) {
	p.Tap("bead-watch")
	p.Wants("bead-watch", "Stop")
	noBounce(p)
	p.Tap("bead-watch")
	p.Wants("bead-time", "s")
	p.Type("bead-time", "75 s")
	p.Type("bead-length", "150 mm")
	p.Wants("bead.speed", "120 mm/min")
	sound(t, p, "pacer-bead")
	shots(p, "pacer-bead")
	p.Tap("bead-take")
	p.Wants("sheet-travel_length_m", "150 mm")
	p.Wants("sheet-travel_s", "75 s")
	p.WantsText("120 mm/min")
}
