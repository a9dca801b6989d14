package state

import (
	"strings"
	"testing"
)

func TestStoreEmptied_stands_until_it_was_read(t *testing.T) {
	const at = 1_920_000_000_000
	for _, tt := range []struct {
		name string
		lost Held
		says []string
	}{
		{"no file", Held{Records: 1, At: at}, []string{"storage of this browser is empty", moment(at), "1 record ", "No file was ever saved", "Bench"}},
		{"a file", Held{Records: 42, At: at, File: at - 86_400_000}, []string{"42 records", "after " + moment(at-86_400_000), "Read that file in under Bench"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			w := newWorld(t)
			w.post(StoreEmptied{Lost: tt.lost})
			w.run([]Effect{Reload{}})
			w.post(ThemeChosen{Theme: ThemeLight}) // a write that succeeds is no reason to be silent
			if len(w.app.Notices) != 1 || w.app.Notices[0].Level != LevelStop {
				t.Fatalf("%+v", w.app.Notices)
			}
			for _, words := range tt.says {
				if !strings.Contains(w.app.Notices[0].Text, words) {
					t.Errorf("%q is not in %q", words, w.app.Notices[0].Text)
				}
			}
			w.effects = nil
			w.post(NoticePutAway{Code: NoticeStoreEmptied})
			if len(w.app.Notices) != 0 || len(w.effects) != 1 || w.effects[0] != (ForgetLost{}) {
				t.Errorf("notices %+v, effects %+v", w.app.Notices, w.effects)
			}
		})
	}
}

func TestHeld_remembers_the_larger_of_two_losses(t *testing.T) {
	first := Held{Records: 40, At: 1, File: 5}.Emptied()
	first.Records, first.At = 2, 6
	second := first.Emptied()
	if second.Lost.Records != 40 || second.Lost.Lost != nil || second.Records != 0 || second.File != 5 {
		t.Errorf("%+v", second)
	}
	second.Records = 50
	if third := second.Emptied(); third.Lost.Records != 50 {
		t.Errorf("%+v", third.Lost)
	}
}
