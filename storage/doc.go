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
// # Finding some of very many
//
// [Store.List] reads whole records, for kinds of which there are tens. A kind
// with thousands, as sheets, is left out of such lists with Query.Except and
// asked for: an [Index], handed over when the store is opened, says of each
// body where it sorts, by which terms it is found, and what a list shows of it.
// The store keeps that beside the record, in the transaction that writes it,
// and understands none of it.
//
//	page, err := store.Find(ctx, storage.Find{
//		Kind: "sheet", Terms: []string{"joint=corner", "metal=mild"}, Prefix: "~gat",
//		Newest: true, Limit: 30,
//	})
//	// page.Total match; page.Records are the newest 30 in full
//	next, err := store.Find(ctx, f) // with f.After = page.Next
//	menu, err := store.Terms(ctx, "sheet", "tip=") // values in use, with counts
//
// With Briefs set a Find returns the index's extracts instead of records, of
// thousands at a time: enough for a list, a trend, a median. Only what is
// returned is read; while an index is made anew after an update, Page.Partial
// is set.
//
// # Attachments
//
// Photos and files are kept outside the ops, named by their content:
//
//	name, err := store.PutBlob(ctx, jpeg) // durable now; a full device is told here
//	author.Write(ctx, storage.Draft{Kind: "sheet", Schema: 1, Body: body, Blobs: []storage.Hash{name}})
//
// Put first, then save: a photo that finds no room leaves the sheet to be
// saved without it. What was put and never saved is removed by
// [Store.DropOrphans] after a day. Attachments that any op refers to stay,
// those of replaced and deleted versions too, so that undo works.
//
// # Keeping in step with a vault
//
// Each op stored through [Store.Commit] or [Store.Append] is also noted as
// waiting. A [Replica] is a store that tells what waits, takes over what others
// sent together with the [Checkpoint] it reaches to, and knows which
// attachments are missing here or there; package replicate does the rest.
//
// # What it does not do
//
// This package does no input or output.
package storage
