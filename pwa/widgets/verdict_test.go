package widgets

import (
	"testing"

	"torchside/pwa/present"
	"torchside/pwa/pwatest"
)

// A verdict is told by its word, and by a shape of its own for who does not see colours.
func TestVerdict_has_a_shape_for_every_word(t *testing.T) {
	shapes := map[string]string{}
	for _, sign := range []string{"tight", "leaking", "undecided"} {
		path := verdictPaths[sign]
		if path == "" {
			t.Errorf("%s has no shape", sign)
		}
		if other, ok := shapes[path]; ok {
			t.Errorf("%s and %s look alike", sign, other)
		}
		shapes[path] = sign
		html := pwatest.HTML(t, Verdict(present.LeakVerdict{Word: "Word", Sign: sign, Lead: "Lead.",
			Warnings: []present.Warning{{Code: "c", Level: "caution", Word: "Caution", Text: "First."}}, Facts: []present.Fact{{Name: "Leak", Value: "1 L/h", Val: "leak.leak"}}}, true))
		pwatest.Wants(t, html, ">Word<", "so far", "verdict-"+sign, "First.", "1 L/h", `data-act="leak-verdict"`)
	}
}

func TestCountDown_tells_screen_readers_that_it_is_a_timer(t *testing.T) {
	html := pwatest.HTML(t, CountDown("9:59", "left", 1))
	pwatest.Wants(t, html, `role="timer"`, "9:59", `max="100"`, `value="1"`)
}
