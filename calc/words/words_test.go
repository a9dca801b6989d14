package words

import (
	"testing"
)

// speak has the package speak a language for one test.
func speak(t *testing.T, code string, texts string) {
	t.Helper()
	use(code, code, texts)
	t.Cleanup(func() { catalogue, language, chosen = nil, English, "" })
}

func TestEnglish_isTheKeyItself(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{T("Close the valve."), "Close the valve."},
		{Text("Close the valve.").String(), "Close the valve."},
		{F("%s at %.1f %%", "oxygen", 2.5), "oxygen at 2.5 %"},
		{S("%s of %s, 5 %%", "1/10", "a sheet"), "1/10 of a sheet, 5 %"},
		{S("%[2]s before %[1]s, then %s", "b", "a"), "a before b, then a"},
		{N(1, "one sheet", "%d sheets"), "one sheet"},
		{N(0, "one sheet", "%d sheets"), "0 sheets"},
		{N(1204, "%d sheet", "%d sheets"), "1204 sheets"},
		{Join([]string{"a", "b"}, ", or "), "a, or b"},
		{Count(1, "sheet") + Count(2, "sheet"), "1 sheet2 sheets"},
		{Capital("über") + Capital(""), "Über"},
		{Number("1.5"), "1.5"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

func TestAnotherLanguage_isLookedUpAndTheRestStaysEnglish(t *testing.T) {
	speak(t, German, "oxygen\x00Sauerstoff\x00%s of %s\x00%[2]s: %[1]s\x00%d sheets\x00%d Blätter\x00one sheet\x00ein Blatt\x00sheet (short)\x00Bl.\x00, or \x00 oder \x00%s at %d\x00%s bei %d\x00%6.2f of %v\x00%6.2f von %v")
	for _, c := range []struct{ got, want string }{
		{T("oxygen"), "Sauerstoff"},
		{T("acetylene"), "acetylene"},
		{Short("oxygen") + Short("sheet"), "SauerstoffBl."},
		{Text("oxygen").String(), "Sauerstoff"},
		{S("%s of %s", "2 m³", "oxygen"), "Sauerstoff: 2 m³"},
		{F("%s at %d", "oxygen", 3), "Sauerstoff bei 3"},
		{F("%6.2f of %v", 1.5, 2.25), "  1,50 von 2,25"},
		{N(1, "one sheet", "%d sheets"), "ein Blatt"},
		{N(2, "one sheet", "%d sheets"), "2 Blätter"},
		{Count(1, "sheet") + Count(2, "sheet"), "1 sheet2 Blätter"},
		{Capital("oxygen"), "Sauerstoff"},
		{Join([]string{"oxygen", "air"}, ", or "), "Sauerstoff oder air"},
		{Number("1.5"), "1,5"},
		{Language() + Chosen(), "dede"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

// A text with too few holes filled shows it; it must not end the program, and a per cent sign of a hole's text is not a hole.
func TestS_showsAHoleWithoutText(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{S("%s and %s", "a"), "a and %s"},
		{S("%[3]s", "a"), "%[3]s"},
		{S("%[0]s", "a"), "%[0]s"},
		{S("%[x]s", "a"), "%[x]s"},
		{S("100 %", "a"), "100 %"},
		{S("%s", "100 %s"), "100 %s"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

// Without a catalogue, or with one that was cut off, the program speaks English rather than nothing.
func TestUse_withoutTextsIsEnglish(t *testing.T) {
	speak(t, Spanish, "")
	if Language() != English || Chosen() != Spanish || T("a") != "a" {
		t.Errorf("language %q, chosen %q, %q", Language(), Chosen(), T("a"))
	}
	speak(t, Spanish, "a\x00b\x00c")
	if T("a") != "b" || T("c") != "c" {
		t.Errorf("%q, %q", T("a"), T("c"))
	}
}

// A name or note of the owner is no text of ours, even where the catalogue has the same letters.
func TestOwn_showsWhatWasWritten(t *testing.T) {
	speak(t, German, "copper\x00Kupfer\x00")
	if got := Own("copper", false) + " " + Own("copper", true); got != "copper Kupfer" {
		t.Errorf("%q", got)
	}
}
