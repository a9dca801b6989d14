//go:build browser

package journeys

import (
	"strings"
	"testing"

	"torchside/pwa"
	"torchside/pwa/journeys/browsertest"
)

// The language is chosen on Bench, kept by this phone, and read from the worker's copy when the server is away. What was typed before
// stays. English comes back without a catalogue.
func TestLanguageIsKeptOnThePhone(t *testing.T) {
	server := browsertest.NewServer(t)
	profile := browsertest.NewProfile(t, server)
	page := profile.Open("/bench")
	accept(page)
	page.Type("pref-temperature", "18 °C")
	saved(page)
	page.Wait("the worker has its copy", `!!navigator.serviceWorker.controller`)
	for _, c := range []struct{ act, code, word string }{{"language-es", "es", "Idioma"}, {"language-en", "en", "Language"}, {"language-de", "de", "Sprache"}} {
		page.Tap(c.act)
		page.Wait("the page speaks "+c.code, `document.documentElement.lang === "`+c.code+`" && `+ready(c.word))
		if !page.Has("pref-temperature") || !strings.Contains(browsertest.Eval[string](page, `document.querySelector("[data-act=pref-temperature]").value`), "18") {
			t.Errorf("%s: what was typed is gone", c.code)
		}
	}
	server.Stop()
	page.Reload()
	page.Wait("the page speaks German without a server", `document.documentElement.lang === "de" && `+ready("Sprache"))
}

// ready is true once the program has drawn the question of this word.
func ready(word string) string {
	return `[...document.querySelectorAll(".field-label")].some((l) => l.textContent === "` + word + `")`
}

// markedWords puts brackets round every text of the German catalogue's keys instead of translating it.
const markedWords = `localStorage.setItem("torchside/language", "de");
	const read = window.fetch;
	window.fetch = async (...a) => {
		if (!String(a[0]).endsWith("/words/de.json")) return read(...a);
		const texts = await (await read(...a)).json();
		for (const key of Object.keys(texts)) texts[key] = "⟦" + key + "⟧";
		return new Response(JSON.stringify(texts));
	};`

// unmarked lists what is shown, read out or hinted at on the page without having gone through the catalogue.
const unmarked = `(() => {
	const found = new Set();
	const letters = /\p{L}{2,}/u;
	const bare = (text) => { let rest = text; for (let before = ""; rest !== before;) { before = rest; rest = rest.replace(/⟦[^⟦⟧]*⟧/g, " "); } return rest.trim(); };
	const note = (text) => { if (text && letters.test(bare(text))) found.add(text.trim()); };
	const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
	for (let n = walker.nextNode(); n; n = walker.nextNode()) if (!["SCRIPT", "STYLE", "NOSCRIPT"].includes(n.parentElement.tagName)) note(n.data);
	for (const e of document.querySelectorAll("[aria-label],[placeholder],[alt],[title]")) for (const a of ["aria-label", "placeholder", "alt", "title"]) note(e.getAttribute(a));
	return [...found];
})()`

// The pages beside the program speak the language chosen too, from the worker's copy as well: every text of theirs has gone through the
// catalogue but the names of sources.
func TestLanguage_pagesBesideTheProgram(t *testing.T) {
	server := browsertest.NewServer(t)
	profile := browsertest.NewProfile(t, server)
	page := profile.Open("/bench")
	accept(page)
	page.Tap("language-de")
	page.Wait("the page speaks German", `document.documentElement.lang === "de" && `+ready("Sprache"))
	page.Wait("the worker has its copy", `!!navigator.serviceWorker.controller`)
	page.Close()
	server.Stop()
	profile.Expect("ERR_CONNECTION_REFUSED")
	page = profile.Blank()
	for path, text := range map[string]string{"/emergency": "Alle hinaus, jetzt.", "/abilities": "Noch nicht getestet."} {
		page.GoRaw(path)
		page.WantsText(text)
		page.Wait("the title is German", `!document.title.match(/Emergency|phone/)`)
		looked(t, page, "german-"+path[1:])
		if list := browsertest.Eval[[]string](page, cutOff); len(list) > 0 {
			t.Errorf("%s: %q", path, list)
		}
	}
	page.Close()
	profile.OnNew(markedWords)
	page = profile.Blank()
	for _, path := range []string{"/emergency", "/abilities"} {
		page.GoRaw(path)
		page.Wait("the words are there", `document.querySelector("h1").textContent.startsWith("⟦")`)
		if list := browsertest.Eval[[]string](page, unmarked); len(list) > 0 {
			t.Errorf("%s: %d texts not from the catalogue: %q", path, len(list), list)
		}
	}
}

// Counts, page by page, what still speaks English whatever the language; the texts are printed to be wrapped.
func TestLanguage_whatIsNotWrapped(t *testing.T) {
	server := browsertest.NewServer(t)
	profile := browsertest.NewProfile(t, server)
	profile.OnNew(markedWords)
	page := profile.Open("/")
	count := func(name string) {
		list := browsertest.Eval[[]string](page, unmarked)
		t.Logf("%s: %d texts not from the catalogue\n\t%s", name, len(list), strings.Join(list, "\n\t"))
	}
	count("safety notice")
	page.Tap("notice-accept")
	page.Lacks("notice-accept")
	for _, name := range []string{"first steps: units", "first steps: rig"} {
		page.Wait(name, `!!document.querySelector("[data-act=guide-skip]")`)
		count(name)
		if name == "first steps: units" {
			page.Tap("guide-next")
			page.Wait("the next screen", `!!document.querySelector("[data-act=guide-sample]")`)
		}
	}
	page.Tap("guide-skip")
	page.Lacks("guide-skip")
	page.Tap("setup-sample")
	page.Wait("the sample is there", `!!document.querySelector("[data-act=setup-thickness]")`)
	page.Type("setup-thickness", "1/8 in")
	for _, r := range pwa.Routes {
		page.Go(r.Path)
		count(r.Path)
	}
}
