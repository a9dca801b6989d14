//go:build js

package main

import "syscall/js"

// random reads the browser's own source of unpredictable bytes: what crypto/rand would read, without
// the ciphers that package brings along.
type random struct{}

// mostRandom is how many bytes the browser gives at once (Web Cryptography API, getRandomValues).
const mostRandom = 65536

func (random) Read(p []byte) (int, error) {
	n := min(len(p), mostRandom)
	bytes := js.Global().Get("Uint8Array").New(n)
	js.Global().Get("crypto").Call("getRandomValues", bytes)
	return js.CopyBytesToGo(p[:n], bytes), nil
}
