package state

import "torchside/storage"

// Effect is something to be done outside: by the store or the browser. Package effects runs them.
type Effect interface{ effect() }

type (
	// Write stores the drafts in one transaction and answers with WriteDone or WriteFailed.
	Write struct {
		Token  int
		Drafts []storage.Draft
	}
	// Reload reads all records again and answers with Loaded.
	Reload struct{}
	// KeepDraft keeps an unfinished form, so that a crash does not lose it; an empty Draft forgets it.
	KeepDraft struct {
		Key   string
		Draft Draft
	}
	// AskPersistent asks the browser never to throw the data away, and answers with HealthRead.
	AskPersistent struct{}
	// ReadHealth answers with HealthRead.
	ReadHealth struct{}
	// Export hands one file with everything to the person: what the store holds, and what it refused.
	Export struct {
		Records []storage.Record // as known here, for a store that cannot be read
		Unsaved []storage.Draft
		Typed   []storage.Draft // sheets begun and not saved, for a store that cannot be read
		Waiting []Write         // asked for and not yet answered: only the store knows whether they are saved
	}
	// Import reads such a file; answered with ImportProgress, and then ImportDone or TransferFailed.
	Import struct{ File Source }
	// ReadStatic reads a file of the app itself, such as tables too long for the program; answered with StaticRead.
	ReadStatic struct{ Address string }
	// Restart starts the waiting version.
	Restart struct{}
	// ShowTheme applies "system", "dark" or "light" to the page.
	ShowTheme struct{ Theme string }
	// SetLanguage keeps the language of this phone, "" for its own, and begins anew with it.
	SetLanguage struct{ Code string }
	// ShowTop brings the top of the page, or the element with this data-act hook, into view.
	ShowTop struct{ Act string }
)

func (Write) effect()         {}
func (Reload) effect()        {}
func (KeepDraft) effect()     {}
func (AskPersistent) effect() {}
func (ReadHealth) effect()    {}
func (Export) effect()        {}
func (Import) effect()        {}
func (ReadStatic) effect()    {}
func (Restart) effect()       {}
func (ShowTheme) effect()     {}
func (SetLanguage) effect()   {}
func (ShowTop) effect()       {}
