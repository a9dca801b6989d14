package storagetest

import (
	"testing"

	"torchside/storage"
)

// Run tests that a store keeps its contract. fresh makes empty data for one
// test and returns how to open it; opening twice gives two handles on the same
// data, at the same time or one after the other.
func Run(t *testing.T, fresh func(t *testing.T) Open) {
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) { c.test(newBench(t, fresh(t))) })
	}
}

// RunReplica tests what a store must do to be kept in step with a vault, beside
// Run. The stores opened must be storage.Replica.
func RunReplica(t *testing.T, fresh func(t *testing.T) Open) {
	for _, c := range replicaCases {
		t.Run(c.name, func(t *testing.T) {
			b := newBench(t, fresh(t))
			b.replica = func() storage.Replica { return b.store.(storage.Replica) }
			c.test(b)
		})
	}
}

// replicaCases are in syncing.go and attached.go.
var replicaCases = []struct {
	name string
	test func(*bench)
}{
	{"what was written or appended waits in order of id until it is sent", waits},
	{"what came from the vault does not wait and is there with the checkpoint", pulled},
	{"a page that cannot be stored leaves the checkpoint where it was", pulledWrong},
	{"what waited and comes back from the vault waits no more", pulledOwn},
	{"what the vault refuses is shown and holds up nothing", refuses},
	{"starting anew offers everything again", requeues},
	{"the history of a record is all its ops", histories},
	{"no clock of another device moves our own", foreignClocks},
	{"outbox, refusals and checkpoint are there after reopening", syncReopened},
	{"random exchanges agree with a plain model", randomExchanges},

	{"attachments are wanted as long as ops name them and they are not here", wantsBlobs},
	{"attachments the vault let go of are not wanted until they are named again", goneBlobs},
	{"what looks newest and was replaced is forgotten with what it replaced", forgets},
	{"attachments are unsent as long as the vault is not known to have them", unsentBlobs},
}

// cases are grouped by file: records.go, appending.go, reading.go, finding.go,
// indexing.go, blobs.go, lasting.go.
var cases = []struct {
	name string
	test func(*bench)
}{
	{"an empty store answers with nothing", emptyStore},
	{"a saved record reads back byte for byte", savedReadsBack},
	{"an update replaces what was seen", updateReplaces},
	{"a deleted record is kept out of lists and can be brought back", deleteAndUndo},
	{"two edits of the same state are both kept, and an update settles them", conflictAndSettle},
	{"an edit beats a deletion and is flagged", editBeatsDelete},
	{"several drafts are saved in one transaction and in order", severalDrafts},
	{"a draft that breaks a rule saves nothing", badDraftSavesNothing},
	{"a failing stamp saves nothing", failingStamp},
	{"a clock set back does not undo the order of changes", clockSetBack},

	{"appending twice holds what is there", appendTwice},
	{"an id with other content is refused and the rest too", appendMismatch},
	{"an invalid op is refused and the rest too", appendInvalid},
	{"appending tells which records are in conflict by it", appendSplit},
	{"a child may arrive before its parent", childFirst},
	{"an op of another record does not hide a head", foreignParent},
	{"ops that name each other in a ring make no record", ring},
	{"a large batch and a body at the limit are stored", largeBatch},

	{"lists are paged by kind in order of creation", listPages},
	{"ops are paged in order of id", opsPages},
	{"a list leaves kinds out", listExcept},
	{"bad limits are refused", badLimits},
	{"what a store returns belongs to the caller", ownership},
	{"a cancelled call does nothing", cancelled},

	{"records are found by all their terms, by a beginning and in order", findByTerms},
	{"pages show every record once while others are written", pagesWhileWriting},
	{"a record is found by what it shows, through edit, conflict, deletion and undo", findsWhatIsShown},
	{"imported records are found whatever order they came in", findsImported},
	{"random questions agree with a plain map", randomQuestions},
	{"questions no store can answer are refused", badQuestions},
	{"a record is kept whatever its indexer does", wildIndexer},
	{"another version of the index makes all entries anew", newIndexVersion},

	{"an attachment is kept by its content", blobsReadBack},
	{"attachments are paged in order of name", blobPages},
	{"only what no op refers to is dropped, and not before a day", orphans},
	{"an attachment outside the limits is refused", badBlobs},

	{"what was saved is there after reopening", reopening},
	{"a closed store says so", closedStore},
	{"writers on two handles never share a number", twoHandles},
	{"random operations agree with a plain list", randomOperations},
}
