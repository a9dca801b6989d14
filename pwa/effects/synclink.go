package effects

import (
	"fmt"
)

// linkName is the name under which the local storage keeps the device's place in a shop. It is not in the store: an export must not
// hand the secret on.
const linkName = "torchside/link"

// Link reads the place; what cannot be read counts as none.
func (b *WebBrowser) Link() Link {
	var l Link
	if b.kept.Get(linkName, &l) != nil {
		return Link{}
	}
	return l
}

// KeepLink writes the place; the zero Link forgets it.
func (b *WebBrowser) KeepLink(l Link) error {
	if l == (Link{}) {
		b.kept.Del(linkName)
		return nil
	}
	if err := b.kept.Set(linkName, l); err != nil {
		return fmt.Errorf("this browser does not keep the place in the shop: %w", err)
	}
	return nil
}
