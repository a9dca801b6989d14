//go:build browser

package journeys

import (
	"testing"
	"time"

	"torchside/pwa/journeys/browsertest"
)

// watchLoading keeps the highest figure that the loading label ever shows.
const watchLoading = `window.highestFigure = -1;
new MutationObserver(() => {
	const label = document.getElementById("app-wasm-loader-label");
	const figure = /(\d+) ?%/.exec(label?.textContent ?? "");
	if (figure) window.highestFigure = Math.max(window.highestFigure, Number(figure[1]));
}).observe(document, { subtree: true, childList: true, characterData: true });`

// On a slow phone with a poor connection the loading figure goes up to 100 and no further, and no letter is lost, however far
// the page lags behind the thumb.
func TestSlowPhone(t *testing.T) {
	profile := browsertest.NewProfile(t, browsertest.NewServer(t))
	profile.OnNew(watchLoading)
	page := profile.Blank()
	page.SlowNetwork(150*time.Millisecond, 1e6)
	page.SlowCPU(4)
	page.GoRaw("/")
	page.WaitReady()
	if highest := browsertest.Eval[int](page, `window.highestFigure`); highest != 100 {
		t.Errorf("the loading figure went up to %d %%, wanted 100", highest)
	}
	accept(page)
	goTo(page, "rig")
	page.Tap("rig-add-cylinder-oxygen")
	for _, f := range []typed{{"rig-name", "The tall one by the door"}, {"rig-water_volume", "20 L"}, {"rig-gauge_pressure", "2000 psi"}, {"rig-count", "2"}} {
		page.Type(f.act, f.text)
	}
	page.Tap("rig-save")
	page.Lacks("rig-save")
	page.Reload()
	goTo(page, "rig")
	for _, words := range []string{"The tall one by the door", "20 L"} {
		page.WantsText(words)
	}
}
