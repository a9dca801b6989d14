// Package server answers the protocol of storage/wire over HTTP for any vault.Vault: who may ask
// (devices with a token, strangers with a pairing code), how much and how fast, and what a refusal
// says. What a shop holds is the vault's business; what an op means is nobody's here.
//
// # Who gets in
//
// A device shows its token with every request. The token names the shop, so no request names one,
// and there is no way to ask for another's. A stranger can do one thing: show a pairing code. Codes
// are eight digits, work once and end after CodeLife; wrong ones are counted in the vault, so that a
// restart does not forgive them. Tokens and codes are kept as hashes only, and nothing secret is
// written to the log.
//
// # What it does not do
//
// No TLS and no Host check: both belong to the program that mounts it. It sends no cross-origin
// headers, and refuses what a page of another site sends.
package server
