package effects

import (
	"context"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/state"
	"torchside/storage"
)

// Ports are the ways out of the app.
type Ports struct {
	// Open opens the store. It is called again when the store was closed or could not be opened before.
	Open func(context.Context) (storage.Store, error)
	// Author stamps changes made here; see storage.NewAuthor.
	Author  func(storage.Store) *storage.Author
	Files   Files
	Browser Browser
	// Vault is the shop's server; nil for an app that has none.
	Vault Vault
	// Queried are the kinds with too many records to load: a Reload leaves them out, FindRecords asks for them.
	Queried []string
	// Static reads a file of the app itself, by its address: from the worker's copy when there is no network. nil for an app without.
	Static func(ctx context.Context, address string) ([]byte, error)
	// Limit is the size in bytes of the largest file Files reads in; 0 for none.
	Limit int64
	// Version is the version compiled into this program, "" when it has none.
	Version string
}

// Files writes and reads the one file that holds everything.
type Files interface {
	// Export returns the file of everything the store holds, and of the changes it refused.
	Export(ctx context.Context, s storage.Store, refused []storage.Draft) (File, error)
	// Rescue returns the file of what is known without the store: records as last read, and changes it refused; and of the
	// attachments that can be read of a store that is not nil.
	Rescue(ctx context.Context, s storage.Store, records []storage.Record, refused []storage.Draft) (File, error)
	// Check checks the whole file and says what Import would do. Nothing is changed.
	Check(ctx context.Context, s storage.Store, file state.Source, progress func(step state.ImportStep, done, total int64)) (state.ImportPlan, error)
	// Import checks the whole file and then adds what it holds to the store. Nothing there is overwritten.
	Import(ctx context.Context, s storage.Store, file state.Source, progress func(step state.ImportStep, done, total int64)) (state.ImportDone, error)
}

// File is one file ready to be handed over.
type File struct {
	Name    string
	Data    []byte
	Parts   app.Value // the content as the browser's own Blob instead of Data: too much to be held here twice
	Records int
	Skipped int // refused changes that could not be written into it
	Lost    int // records of a store that cannot be read in full
}

// Browser is the part of the browser the app needs besides the store. Its methods are called on any goroutine and return at
// once.
type Browser interface {
	// Drafts returns all kept drafts; one that cannot be read is left out.
	Drafts() map[string]state.Draft
	// KeepDraft keeps a draft so that a crash does not lose it; the zero Draft forgets it.
	KeepDraft(key string, d state.Draft) error
	ShowTheme(theme string)
	// SetLanguage keeps the language and loads the page again.
	SetLanguage(code string)
	// ShowTop scrolls to the element with this data-act hook and gives it the focus; "" is the top of the page.
	ShowTop(act string)
	// Download hands a file to the person.
	Download(f File) error
	// Restart starts the version that waits.
	Restart()
	// Held returns what KeepHeld kept, the zero Held when there is nothing.
	Held() state.Held
	// KeepHeld keeps what the store holds, beside the store. A browser that does not is as before: a loss is then not noticed.
	KeepHeld(state.Held)
	// Link returns the place in a shop that KeepLink kept, the zero Link when there is none.
	Link() Link
	KeepLink(Link) error
	// Announce tells other windows of this app that something was written.
	Announce()
}
