package pwa

// Version names the build this program belongs to: a hash of everything that
// went into it, set by the linker in both the wasm and the server (see web/pack).
// A wasm cannot hold its own hash, so inputs are hashed. It is empty in a plain "go build".
var Version string
