// Package vault is the contract between the server and whatever keeps the data
// of its shops. It has no input or output of its own: storage/bolt keeps a
// vault in files, storage/vault/memvault keeps one in memory for tests, and
// storage/vault/vaulttest holds both to what is written here.
//
// # What is kept
//
// A vault serves several shops that know nothing of each other. Of each it
// keeps every [storage.Op] it was ever given, the heads they make, one log that
// numbers them, the attachments they name, and the devices that may ask. Beside
// them are pairing codes, counts of failed attempts, and an audit log.
//
// # The log and its checkpoints
//
// Each op stored gets the next number of its shop, from 1 without gaps, in the
// transaction that stores it. Beside each number stands a chain value,
//
//	chain[n] = SHA-256(chain[n-1] ‖ op id ‖ SHA-256(op as JSON))
//
// so that a number with its chain value names everything up to it. A number
// alone would not do: after an older backup was put back, numbers are given out
// again, and a device would miss what took their place. A device therefore
// keeps a whole [Checkpoint] of what it has pulled and of what was last
// acknowledged to it; when the vault does not know one of them as its own, the
// answer is a [MismatchError], and the device starts from the zero Checkpoint
// and sends everything it holds once more. That does no harm: what is there
// already is [Held].
//
// # Old versions
//
// [History] lets the texts of replaced ops go, as far as the owner sets, and
// the attachments only they name. Checkpoints given out since have a tag behind
// their chain value, see [Line]; those of before are refused where a device
// would not hear of what replaced what it holds.
//
// # When an answer may be believed
//
// A nil error means that the data is committed and synced to the disk, and that
// every later call sees it. After any error nothing of the call was kept,
// except where the method says otherwise.
package vault
