package storage

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
)

// Checkpoint is how far a device has taken over what a vault holds: everything
// up to Seq of the vault Store. The number alone would not do: after an older
// copy of a vault is put back its numbers are given out again, and a device
// would miss what took their place. Chain tells: it is a hash over all ops up
// to Seq. The zero Checkpoint is nothing from no vault.
type Checkpoint struct {
	Store string `json:"store"` // made at random with the vault's file
	Seq   uint64 `json:"seq"`   // 0 before the first op
	Chain Hash   `json:"chain"` // "" at Seq 0
}

// NextChain returns the chain after one more op: SHA-256 over the chain before
// it, as text, and the stored form of the op. The only errors are those of an
// op that cannot be written, which Check refuses.
func NextChain(chain Hash, op Op) (Hash, error) {
	text, err := json.Marshal(op)
	if err != nil {
		return "", fmt.Errorf("chain: %w", err)
	}
	return ChainText(chain, text), nil
}

// ChainText is NextChain for an op in its stored form, as MarshalJSON writes it.
func ChainText(chain Hash, text []byte) Hash {
	h := sha256.New()
	h.Write([]byte(chain))
	h.Write(text)
	return hex.EncodeToString(h.Sum(nil))
}
