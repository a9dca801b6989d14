package present

import (
	"strings"
	"testing"

	"torchside/calc/journal"
)

// Widths are written to two figures of their error: 6.4 mm known to 0.13 mm has two decimals, to 1.3 mm one (JCGM 100:2008, 7.2.6).
func TestBeadWidth_has_as_many_places_as_its_error(t *testing.T) {
	for _, c := range []struct {
		width, off float64
		o          Options
		want       string
	}{
		{0.0064, 0.00013, metric, "6.40 ± 0.13 mm"}, {0.0064, 0.0013, metric, "6.4 ± 1.3 mm"}, {0.0064, 0.013, metric, "6 ± 13 mm"},
		{0.0064, 0.000013, metric, "6.400 ± 0.013 mm"}, {0.00635, 0.000254, us, "0.250 ± 0.010 in"}, {0.00635, 0, us, "0.2500 ± 0.0000 in"},
	} {
		if got := BeadWidth(c.width, c.off, c.o); got != c.want {
			t.Errorf("%v ± %v: %q, want %q", c.width, c.off, got, c.want)
		}
	}
}

func TestNewPhoto_names_what_there_is(t *testing.T) {
	width := 0.00635
	for _, c := range []struct {
		p                    journal.Photo
		name, alt, widthText string
		plain                bool
	}{
		{journal.Photo{Hash: "a", ThumbHash: "b", Role: "back"}, "Photo 3", "Back side Photo 3", "", false},
		{journal.Photo{Hash: "a", ThumbHash: "b", Caption: "third corner", BeadM: &width}, "third corner", "third corner", "1/4 in", false},
		{journal.Photo{Hash: "a", Name: "IMG.heic", Bytes: 3 << 20}, "IMG.heic", "IMG.heic", "", true},
	} {
		v := NewPhoto(c.p, 2, us)
		if v.Name != c.name || v.Alt != c.alt || v.Width != c.widthText || v.Plain != c.plain {
			t.Errorf("%+v", v)
		}
	}
	if _, ok := ThumbOf(journal.Brief{}); ok {
		t.Error("a thumbnail of a sheet without photos")
	}
	if p, ok := ThumbOf(journal.Brief{Photos: 2, Thumb: "b"}); !ok || p.Thumb != "b" || p.Plain {
		t.Errorf("%+v", p)
	}
}

func TestFileSize_is_said_in_the_next_larger_unit(t *testing.T) {
	for bytes, want := range map[int]string{0: "", 1: "1 kB", 1500: "1 kB", 1536: "2 kB", 1 << 20: "1.0 MB", 5 << 19: "2.5 MB"} {
		if got := FileSize(bytes); got != want {
			t.Errorf("%d: %q, want %q", bytes, got, want)
		}
	}
}

// Every drawing of the sample journal is plain, told in words, and inside its frame.
func TestBeadDrawing_is_plain_and_told_in_words(t *testing.T) {
	n := 0
	for _, s := range journal.Sample("2026-05-17T12:00:00Z") {
		for _, v := range NewPhotos(s.Photos, us) {
			n++
			for _, want := range []string{`role="img"`, "<title>", "<desc>", "Drawn, not taken", "bead-ripples"} {
				if !strings.Contains(v.Drawing.SVG, want) {
					t.Fatalf("lacks %s: %s", want, v.Drawing.SVG)
				}
			}
			for _, lacks := range []string{"style=", "<script", "NaN", "Inf"} {
				if strings.Contains(v.Drawing.SVG, lacks) {
					t.Fatalf("holds %s", lacks)
				}
			}
			if c := strings.Count(v.Drawing.SVG, "bead-pore"); c != s.Photos[v.Index].Draw.Pores {
				t.Errorf("%d pores drawn of %d", c, s.Photos[v.Index].Draw.Pores)
			}
		}
	}
	if n == 0 {
		t.Error("the sample has no drawn photo")
	}
}

func TestPhotoMarks_show_and_say_the_points_that_are_set(t *testing.T) {
	marks := [4]PhotoMark{{X: 10, Y: 20, Set: true}, {X: 110, Y: 20, Set: true}, {X: 50, Y: 60.25, Set: true}}
	d := NewPhotoMarks(200, 100, marks, 2)
	if strings.Count(d.SVG, `class="mark-known"`) != 3 || strings.Count(d.SVG, `class="mark-bead"`) != 1 || strings.Count(d.SVG, "mark-hand") != 1 {
		t.Error(d.SVG)
	}
	if !strings.Contains(d.Text, "Known 2 at 110, 20") || !strings.Contains(d.Text, "Bead 2 is not set") || !strings.Contains(d.SVG, `viewBox="0 0 200 100"`) {
		t.Error(d.Text)
	}
	if got := PhotoMarkPlaces(marks); got != "0 10 20;1 110 20;2 50 60.25" {
		t.Error(got)
	}
}
