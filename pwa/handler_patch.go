//go:build !js

package pwa

import (
	"bytes"
	_ "embed"
	"fmt"
	"regexp"
)

// patch is one replacement in go-app's script. The text must occur exactly once, so that a
// changed go-app is noticed at start and not by a person with a dead page.
type patch struct{ why, old, new string }

var appJSPatches = []patch{
	{
		why: "go-app refuses to start for any user agent that contains \"bot\" (some phones do)",
		old: `  if (
    /bot|googlebot|crawler|spider|robot|crawling/i.test(navigator.userAgent)
  ) {
    return false;
  }

  const urlParams = new URLSearchParams(window.location.search);
  return urlParams.get("wasm") !== "false";
`,
		new: `  return typeof WebAssembly === "object";
`,
	},
	{
		why: "go-app takes the first worker for an update; web/static/boot.js watches instead",
		old: `      goappSetupNotifyUpdate(registration);
`,
		new: "",
	},
	{
		why: "without WebAssembly go-app would leave an empty page",
		old: `  if (!goappCanLoadWebAssembly()) {
    loader.remove();
    return;
  }
`,
		new: `  if (!goappCanLoadWebAssembly()) {
    document.getElementById("app-wasm-loader-label").innerText =
      "This browser is too old for Torchside: it cannot run WebAssembly.";
    return;
  }
`,
	},
	{
		why: "the program takes the words of the language before anything else, see words.js",
		old: `    const go = new Go();
`,
		new: `    const go = new Go();
    await window.torchsideWordsReady;
`,
	},
	{
		why: "a Go program that has ended leaves a page whose controls are all dead, and ours is folded (web/pack/fold.go)",
		old: `    go.run(wasm.instance);
    loader.remove();
`,
		new: `    const stopped = () => window.torchsideShowRestart();
    torchsideUnfold(wasm);
    go.run(wasm.instance).then(stopped, stopped);
    loader.remove();
`,
	},
}

// unfoldScript puts back what the build has taken out of the program; see web/pack/fold.go.
//
//go:embed unfold.js
var unfoldScript []byte

// patchAppJS returns our copy of go-app's /app.js, with the script that the built program needs to start.
func patchAppJS(script []byte) ([]byte, error) {
	for _, p := range appJSPatches {
		if n := bytes.Count(script, []byte(p.old)); n != 1 {
			return nil, fmt.Errorf("go-app's /app.js has changed: the text to replace occurs %d times, not once (%s)", n, p.why)
		}
		script = bytes.Replace(script, []byte(p.old), []byte(p.new), 1)
	}
	return append(script, unfoldScript...), nil
}

// socialTag matches the preview tags for social networks. They need a public name that a shop's
// server does not have; go-app writes "https:///" for it.
var socialTag = regexp.MustCompile(`\s*<meta [^>]*(property="og:|name="twitter:)[^>]*>`)

func withoutSocialTags(page []byte) []byte { return socialTag.ReplaceAll(page, nil) }
