package storage

import "context"

// Store keeps ops and answers for the records they make. Its methods may be
// called from any number of goroutines at once, and the same data may be open
// in several stores (tabs) at once.
//
// Slices given to a store are not kept or changed; slices returned belong to
// the caller. When ctx ends before a call does, the call returns ctx.Err(); a
// write may then have happened or not. Repeating an Append is always safe; a
// Commit repeated with new ids may at worst hold its content twice. Besides the
// errors named at each method, every method may return those of the medium:
// ErrFull, ErrClosed, ErrLost, ErrUnavailable, and ErrCorrupt for stored data
// that cannot be read.
type Store interface {
	Finder
	Blobs

	// Commit writes ops made on this device. In one transaction it reads the
	// Meta, hands it to stamp, and stores the ops stamp returns, the heads
	// they change, a note that they wait to be sent, and the new Meta. It
	// returns, for each op, its record as it stands after the transaction.
	//
	// Four things may happen:
	//   - nil: all of it is durable, and will be seen by every later call on
	//     this data;
	//   - an error of stamp, returned as it is: nothing was written;
	//   - ErrInvalid or a MismatchError: nothing was written;
	//   - an error of the medium: nothing was written, except that after
	//     ErrLost it is unknown.
	//
	// stamp must not wait for anything, must not call the store, and may be
	// called again if the transaction has to be repeated; only the last
	// call's ops count. Two Commits never see the same Meta.
	Commit(ctx context.Context, stamp Stamp) ([]Record, error)

	// Append stores ops made elsewhere or earlier, as when importing, in one
	// durable transaction: all or none. Order does not matter, not even a
	// child before its parent, and repetition does no harm: an op already
	// held with the same content is counted as held. Ops newly stored are
	// noted as waiting to be sent. The Meta is not touched.
	//
	// ErrInvalid: some op breaks a rule of Op. MismatchError (which is
	// ErrOpMismatch): some ids are held, or given twice, with other content;
	// leaving those ops out and calling again stores the rest.
	Append(ctx context.Context, ops ...Op) (Appended, error)

	// Get returns one record, a deleted one too (Deleted is then set).
	// ErrNotFound: no op of it is held.
	Get(ctx context.Context, rec ID) (Record, error)

	// List returns one page of records in ascending order of their id, which
	// is the order they were created in. It is empty, not ErrNotFound, when
	// nothing matches. ErrInvalid: a negative limit.
	List(ctx context.Context, q Query) ([]Record, error)

	// Ops returns up to limit ops with an id above after, in ascending order
	// of id; "" starts, and an empty page ends. It returns every op ever
	// stored, replaced ones and deletions too: this is what an export holds.
	// ErrInvalid: a limit below 1.
	Ops(ctx context.Context, after ID, limit int) ([]Op, error)

	// Meta returns what the store knows of this device. It is the zero Meta
	// until the first Commit.
	Meta(ctx context.Context) (Meta, error)

	// Usage counts what is stored and, where the host tells, its size.
	Usage(ctx context.Context) (Usage, error)

	// Keep asks the host never to throw the data away by itself, and reports
	// whether it promised that. Asking again is harmless; the answer may
	// change. A host that makes no such promise gives false and no error.
	Keep(ctx context.Context) (bool, error)

	// Close ends the use of this store; calls after it, and calls still
	// running, may return ErrClosed. What was written stays. Closing twice
	// is allowed.
	Close() error
}

// Stamp makes the ops of one Commit from the Meta of the moment and returns
// the Meta to store with them.
type Stamp func(Meta) (Meta, []Op, error)

// Meta is what a device remembers about its own writing.
type Meta struct {
	Dev ID     // random, made by the first Commit; "" before
	N   uint64 // number of the last op made here
	HLC HLC    // last clock reading given out here
}

// Appended reports what Append did, by op id in the order given. An op given
// twice with the same content is added (or held) once.
type Appended struct {
	Added []ID // newly stored
	Held  []ID // already stored with the same content
	Split []ID // records of Added that are in conflict now, ascending
}

// Query selects records. The zero Query is all live records.
type Query struct {
	Kind    string   // "" for every kind
	Except  []string // none of these kinds: those too many to load, which Find is for
	After   ID       // records with a higher id only; "" from the start
	Limit   int      // at most so many; 0 for all
	Deleted bool     // deleted ones too
}

// Usage is how much a store holds.
type Usage struct {
	Records    int   // records, deleted ones included
	Ops        int   // ops of all records
	Waiting    int   // ops noted as waiting to be sent
	Blobs      int   // attachments held
	Bytes      int64 // bytes the host counts for the app, everything included; 0 if it does not tell
	Quota      int64 // bytes the host allows the app; 0 if it does not tell
	Persistent bool  // the host promised not to throw the data away
}
