// Package storage is the contract between the app and whatever keeps its data.
//
// # What is stored
//
// The unit is the [Op]: one immutable change to one record, made on one
// device. Nothing stored is ever changed or removed; a correction is a new op
// that names the ops it replaces as parents, and a deletion is an op with Del
// set. A [Record] is computed: it is the heads of its ops, that is the ops no
// other op of the record names as a parent. One head is the plain case.
// Several heads mean that two devices (or two tabs) changed the record without
// knowing of each other; all of them are kept, one is shown, and the record
// says so in its Conflict field.
//
// The body of an op is opaque here: a kind, a schema number and bytes. Only
// the code that owns a kind reads its body, so a store never has to change
// when a record gains a field, and data of a newer build passes through an
// older one untouched.
//
// # What to call first
//
// Open an adapter (storage/idb in the browser, storage/memory in tests), wrap
// it in [NewAuthor], and write through the author only: it gives each op its
// ids, device, number and clock, all in the transaction that stores the op.
//
//	author := storage.NewAuthor(store, time.Now, rand.Reader)
//	rec, err := author.Save(ctx, "torch", 1, body)      // a new record
//	rec, err = author.Update(ctx, rec, 1, changed)      // rec as it was shown
//	rec, err = author.Delete(ctx, rec)                  // a tombstone
//	rec, err = author.Update(ctx, rec, 1, changed)      // undo: alive again
//
// A nil error means the data is as durable as the adapter can make it; only
// then may the interface say "saved". Any error means nothing was written.
//
// # What it does not do
//
// This package does no input or output, and it does not exchange ops between
// devices. Each op stored through [Store.Commit] or [Store.Append] is also
// noted as waiting, so that an exchange added later knows what to send.
package storage
