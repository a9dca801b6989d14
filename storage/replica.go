package storage

import "context"

// Replica is a store that is kept in step with a vault: it knows what waits to
// be sent there and how far it has taken over what others sent.
//
// An op that is noted as waiting stays so until Sent, Pulled or Refuse names
// it, whatever happens to the device in between. Clocks play no part: neither
// Pulled nor Append moves the clock of the Meta, as an author looks at the
// readings of what he replaces, and no op is refused for its time.
type Replica interface {
	Store

	// Waiting returns up to limit ops noted as waiting to be sent with an id
	// above after, in ascending order of id, those refused left out; "" starts,
	// and an empty page ends. An op that cannot be read is left out too, so that
	// it does not keep the others here; Ops says which it is, and Usage counts
	// it. ErrInvalid: a limit below 1.
	Waiting(ctx context.Context, after ID, limit int) ([]Op, error)

	// Sent ends the waiting of ops that the vault has, refused ones too. Ids
	// that do not wait do no harm.
	Sent(ctx context.Context, ids ...ID) error

	// Refuse notes ops the vault will not take, with its reasons: they wait no
	// longer, stay here as they are, and are shown by Refusals. Ops not held
	// here may be noted too: those the vault has with other content.
	Refuse(ctx context.Context, refused ...Refusal) error

	// Refusals returns what was refused, by ascending id.
	Refusals(ctx context.Context) ([]Refusal, error)

	// Checkpoint returns the place of the last Pulled, zero before any.
	Checkpoint(ctx context.Context) (Checkpoint, error)

	// Pulled stores ops that came from the vault and the place they reach to,
	// in one durable transaction: all or none. It is Append, with its errors,
	// but for what waits: an op given here is in the vault, so it does not wait.
	Pulled(ctx context.Context, next Checkpoint, ops ...Op) (Appended, error)

	// Requeue forgets, in one durable transaction, all that was known of the
	// vault: the Checkpoint is zero, every op held waits, whoever made it,
	// nothing is refused, and no attachment counts as sent. It is what to do
	// when the vault was replaced or put back, and never does harm.
	Requeue(ctx context.Context) error

	// History returns all ops of a record by ascending id, none if there are none.
	History(ctx context.Context, rec ID) ([]Op, error)

	// WantedBlobs returns up to limit attachments that ops name and that are
	// not held here, with a name above after, ascending. ErrInvalid: a limit
	// below 1.
	WantedBlobs(ctx context.Context, after Hash, limit int) ([]Hash, error)

	// UnsentBlobs returns up to limit attachments that are held here, that ops
	// name, and that BlobsSent was not told of, with a name above after,
	// ascending. ErrInvalid: a limit below 1.
	UnsentBlobs(ctx context.Context, after Hash, limit int) ([]Hash, error)

	// BlobsSent notes attachments that the vault has in full.
	BlobsSent(ctx context.Context, names ...Hash) error

	// BlobsGone notes attachments that the vault let go of for good: WantedBlobs
	// leaves them out until an op that names them is stored, or Requeue. While
	// any op waits nothing is noted: it may be the one that names them again.
	BlobsGone(ctx context.Context, names ...Hash) error

	// Forget removes ops that the vault says were replaced and are older than
	// it keeps them, with their waiting, if no op held here names them as a
	// parent: the vault knows what replaced them and this device does not. What
	// Forgotten says goes with them. All others stay, and ids not held do no harm.
	Forget(ctx context.Context, ids ...ID) error
}

// Refusal is an op the vault did not take.
type Refusal struct {
	Op     ID     `json:"op"`
	Reason string `json:"reason"` // for a person to read
}
