// Package wire is the language of the protocol between a device and a vault,
// version 1, as JSON under /api/v1: its messages, limits and errors, and how a
// message from a stranger is read. It is pure: no input or output.
//
// # One exchange
//
// POST /api/v1/sync carries a [SyncRequest] and gives a [SyncReply]: up to 200
// ops and 256 kB each way, in one round trip. The vault answers after what it
// took is durable. Every op sent gets one [Ack]; one that is refused holds up
// no other. The same op may be sent any number of times.
//
// Ops the device gets are those with a higher number than its checkpoint, in
// order, those it sent in the same request left out. It stores them and the
// reply's Next in one transaction, and asks again at once while More is set.
//
// A checkpoint the vault does not know (it was replaced, or an older copy was
// put back) gives Mismatch and no ops: the device forgets its checkpoint and
// offers every op it holds again, whoever made it.
//
// # Attachments
//
// Ops go first, attachments after, by the hash that names them: GET of
// [StatePath] asks how much the vault has ([BlobState]), PUT adds a piece of up to 256 kB at an
// offset, GET reads a piece. The vault takes only attachments its ops name.
// The last piece makes the vault check the hash.
package wire
