// Package replicate keeps a device's store and a vault in step: it sends what
// waits, takes over what others made, and moves attachments, through a [Peer].
package replicate
