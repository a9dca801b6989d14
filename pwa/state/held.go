package state

import (
	"time"

	"torchside/calc/words"
)

// Held is what this browser last knew to be stored here. It is kept beside the store, not in it, so that a store that comes up
// empty can be told from one that never held anything: a browser killed in the middle of a write can lose a whole database.
type Held struct {
	Records int   `json:"records"`           // settings and deleted ones included; 0 when nothing was stored yet
	At      int64 `json:"at_ms"`             // when that was known, Unix ms
	File    int64 `json:"file_ms,omitempty"` // when a file with everything was last handed over, 0 for never
	Lost    *Held `json:"lost,omitempty"`    // what was held when the store came up empty, until the person has read it
}

// IsEmptied reports whether a store without a single change in it must once have held something.
func (h Held) IsEmptied() bool { return h.Records > 0 }

// Emptied is what is known after a store came up empty. Of two losses nobody has read about yet, the larger one is told.
func (h Held) Emptied() Held {
	lost := h
	lost.Lost = nil
	if h.Lost != nil && h.Lost.Records > lost.Records {
		lost = *h.Lost
	}
	return Held{File: h.File, Lost: &lost}
}

// StoreEmptied says that the store came up empty though this browser remembers records in it; again at each start until the
// notice is put away.
type StoreEmptied struct{ Lost Held }

func (StoreEmptied) msg() {}

// ForgetLost says that the person has read what was lost.
type ForgetLost struct{}

func (ForgetLost) effect() {}

// NoticeStoreEmptied is the code of the standing notice of a store that lost everything.
const NoticeStoreEmptied = "store-emptied"

// momentLayout writes an instant of the past to the minute.
const momentLayout = dateLayout + " 15:04"

func moment(ms int64) string { return time.UnixMilli(ms).Format(momentLayout) }

// storeEmptied is the standing notice of lost data: what there was, what is lost as far as known, and the way to get it back.
func (a App) storeEmptied(lost Held) App {
	text := words.S("The storage of this browser is empty, though on %s it held %s of yours (settings and deleted ones counted). This app did not delete them: the browser lost its database, as can happen when it is ended in the middle of a write. ", moment(lost.At), words.Count(lost.Records, "record"))
	if lost.File > 0 {
		text += words.S("Lost as far as known: what was entered here after %s, when a file was last saved from here. Read that file in under Bench.", moment(lost.File))
	} else {
		text += words.T("No file was ever saved from here, so all of it may be lost. If another device or address holds it, save a file there and read it in here under Bench.")
	}
	return a.withNotice(Notice{Code: NoticeStoreEmptied, Level: LevelStop, Action: ActionPutAway, Text: text})
}

// putAway removes a notice that was read; a loss that was read is not told again.
func (a App) putAway(code string) (App, []Effect) {
	a = a.withoutNotice(code)
	if code == NoticeStoreEmptied {
		return a, []Effect{ForgetLost{}}
	}
	return a, nil
}
