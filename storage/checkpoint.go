package storage

// Checkpoint is how far a device has taken over what a vault holds: everything
// up to Seq of the vault Store. The number alone would not do: after an older
// copy of a vault is put back its numbers are given out again, and a device
// would miss what took their place. Chain tells: it is a hash over all ops up
// to Seq, and behind a dot a tag that changes when the vault drops old versions.
// The zero Checkpoint is nothing from no vault.
type Checkpoint struct {
	Store string `json:"store"` // made at random with the vault's file
	Seq   uint64 `json:"seq"`   // 0 before the first op
	Chain Hash   `json:"chain"` // no hash, or only a tag, at Seq 0
}
