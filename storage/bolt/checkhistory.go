//go:build !js

package bolt

import (
	"crypto/sha256"
	"slices"
)

// dropped takes in what is left of an op.
func (k *shopCheck) dropped(e entry) {
	id, rec := idKey(e.id()), idKey(e.rec())
	k.link(id, rec, e.parents())
	k.gone = append(k.gone, pairKey(slices.Concat(rec[:], id[:])))
	k.past = k.last
	k.counts.Dropped++
}

// droppedOnes looks whether all that was dropped was replaced, and what is noted of it.
func (k *shopCheck) droppedOnes() {
	for _, pair := range k.gone {
		if !k.named[pair] {
			k.wrong("change %s was dropped, and nothing replaces it", idText(pair[idSize:]))
		}
	}
	if _, err := limitOf(k.b); err != nil {
		k.wrong("its limit of history: %v", err)
	}
	if line, err := lineOf(k.b); err != nil || line.Past != k.past {
		k.wrong("changes were dropped up to %d, and up to %d is noted (%v)", k.past, line.Past, err)
	}
	gone := k.b.Bucket(goneBucket)
	if gone == nil {
		return
	}
	k.counts.Gone = int64(rowCount(gone))
	_ = gone.ForEach(func(key, _ []byte) error { // which returns only our errors
		if len(key) != sha256.Size || k.blobs[hashKey(key)] {
			k.wrong("attachment %x is noted as gone, and a change names it", key)
		}
		return nil
	})
}
