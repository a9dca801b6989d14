//go:build js

package idb

import (
	"strings"
	"syscall/js"
)

// Names of object stores, indexes and keys. Renaming one strands data.
const (
	opsStore     = "ops"       // key: op id
	headsStore   = "heads"     // key: record id
	outboxStore  = "outbox"    // key: op id
	metaStore    = "meta"      // key: one of the keys below
	dirsStore    = "indexdirs" // key: kind; the directory of its blocks
	blocksStore  = "indexes"   // key: [kind, number]; what live records are found by
	blobsStore   = "blobs"     // key: hash; the content as an ArrayBuffer
	infosStore   = "blobinfos" // key: hash; size and time
	refusedStore = "refused"   // key: op id; the vault's reasons
	wantedStore  = "wanted"    // key: hash of an attachment named by ops and not held
	unsentStore  = "unsent"    // key: hash of an attachment held and not known to be in the vault
	namesIndex   = "names"     // ops by "record/parent", each parent an entry
	usesIndex    = "uses"      // ops by hash, each attachment an entry
	kindIndex    = "kind"      // heads by [kind, record id]
	recIndex     = "rec"       // ops by record id
	deviceKey    = "device"
	indexKey     = "index"  // which index the entries are of
	staleKey     = "stale"  // an older program wrote entries of its own
	placeKey     = "place"  // the checkpoint, as JSON
	leaseKey     = "lease"  // which window is at work, as JSON
	listedKey    = "listed" // attachments of before there were lists are in them
)

// upgrades lead from each version of the database to the next; the version is
// their number. Each gets the database and the upgrade's transaction. Never
// change one that was released, only add.
var upgrades = []func(db, tx js.Value){
	func(db, _ js.Value) {
		ops := db.Call("createObjectStore", opsStore, map[string]any{"keyPath": "op"})
		ops.Call("createIndex", namesIndex, "names", map[string]any{"multiEntry": true})
		heads := db.Call("createObjectStore", headsStore, map[string]any{"keyPath": "rec"})
		heads.Call("createIndex", kindIndex, []any{"kind", "rec"})
		db.Call("createObjectStore", outboxStore, map[string]any{"keyPath": "op"})
		db.Call("createObjectStore", metaStore)
	},
	// The index is made after the upgrade, when the store finds that there is none.
	func(db, tx js.Value) {
		ops := tx.Call("objectStore", opsStore)
		ops.Call("createIndex", usesIndex, "blobs", map[string]any{"multiEntry": true})
		db.Call("createObjectStore", dirsStore)
		db.Call("createObjectStore", blocksStore)
		db.Call("createObjectStore", blobsStore)
		db.Call("createObjectStore", infosStore, map[string]any{"keyPath": "hash"})
		nameUses(ops)
	},
	// What is wanted and unsent of before is listed when it is first asked for.
	func(db, tx js.Value) {
		tx.Call("objectStore", opsStore).Call("createIndex", recIndex, "rec")
		db.Call("createObjectStore", refusedStore, map[string]any{"keyPath": "op"})
		db.Call("createObjectStore", wantedStore)
		db.Call("createObjectStore", unsentStore)
	},
}

// nameUses gives the rows of ops with attachments the field by which these are
// counted. A row that cannot be read stays as it is. The cursor's callback
// lives until the last row; an upgrade given up keeps a few bytes.
func nameUses(ops js.Value) {
	var next js.Func
	request := ops.Call("openCursor")
	next = js.FuncOf(func(js.Value, []js.Value) any {
		cursor := request.Get("result")
		if !cursor.Truthy() {
			next.Release()
			return nil
		}
		row := cursor.Get("value")
		if text := row.Get("text").String(); strings.Contains(text, `"blobs":[`) {
			if op, err := readOp(text); err == nil && len(op.Blobs) > 0 {
				row.Set("blobs", texts(op.Blobs))
				cursor.Call("update", row)
			}
		}
		cursor.Call("continue")
		return nil
	})
	request.Set("onsuccess", next)
}

// texts makes a list that crosses to JavaScript.
func texts(list []string) []any {
	values := make([]any, 0, len(list))
	for _, s := range list {
		values = append(values, s)
	}
	return values
}
