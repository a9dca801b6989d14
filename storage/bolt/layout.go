//go:build !js

package bolt

import (
	"bytes"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"time"

	"go.etcd.io/bbolt"

	"torchside/storage"
	"torchside/storage/vault"
)

// vaultFile is the database within the data folder.
const vaultFile = "vault.bolt"

// schema is that of the layout below.
const schema = "3"

// Schemas of before. One that is raised leaves its number here, and in schemasBefore.
const (
	// schemaFirst had the bucket meta alone.
	schemaFirst = "1"
	// schemaNoHistory is that of now without what has to do with dropped ops:
	// the historyBuckets of a shop, and two of its counts.
	schemaNoHistory = "2"
)

// schemasBefore are those that the next start brings up to date.
var schemasBefore = []string{schemaFirst, schemaNoHistory}

// isKnown tells whether this program knows a schema, that of now or one before.
func isKnown(s string) bool { return s == schema || slices.Contains(schemasBefore, s) }

// Buckets of the file.
var (
	metaBucket     = []byte("meta")
	shopsBucket    = []byte("shops")
	devicesBucket  = []byte("devices")      // device id: deviceRow
	tokensBucket   = []byte("tokens")       // token hash: device id
	codesBucket    = []byte("codes")        // code hash: codeRow
	attemptsBucket = []byte("attempts")     // key: attemptsRow
	orderBucket    = []byte("attemptorder") // number of the change: key
	auditBucket    = []byte("audit")        // number: auditRow

	topBuckets = [][]byte{shopsBucket, devicesBucket, tokensBucket, codesBucket, attemptsBucket, orderBucket, auditBucket}
)

// Keys of the bucket meta.
var (
	storeKey  = []byte("store")
	schemaKey = []byte("schema")
)

// Buckets of one shop; ids are 16 bytes, numbers 8, most significant first.
var (
	logBucket     = []byte("log")     // number: entry, of ops that were not dropped; its sequence is the newest number
	droppedBucket = []byte("dropped") // number: entry, of those that were
	opsBucket     = []byte("ops")     // op: number, record
	headsBucket   = []byte("heads")   // record: heads, one behind the other, ascending
	namedBucket   = []byte("named")   // record, op: a held op of the record names this one as parent, and it is not held as one of the record's
	blobsBucket   = []byte("blobs")   // hash: size of an attachment held in full
	wantedBucket  = []byte("wanted")  // hash: named by an op and not held in full
	goneBucket    = []byte("gone")    // hash: let go of by a trim, and not named since

	shopBuckets    = [][]byte{logBucket, opsBucket, headsBucket, namedBucket, blobsBucket, wantedBucket, droppedBucket, goneBucket}
	historyBuckets = [][]byte{droppedBucket, goneBucket} // those that schemaNoHistory has not
)

// Keys of the bucket of one shop.
var (
	infoKey   = []byte("info")   // shopRow
	countsKey = []byte("counts") // counts
	limitKey  = []byte("limit")  // vault.Limit; none: kept for ever
	lineKey   = []byte("line")   // vault.Line; none: never trimmed
)

// present is the value of keys that only have to be there. It may not be empty:
// within a transaction the library does not tell that from nothing.
var present = []byte{1}

const idSize = 16

// Forms of an entry, its first byte. Another one is a newer program's.
const (
	entryForm   = 1 // chain value, op id, op as JSON
	droppedForm = 2 // chain value, op id, hash of that JSON, hash of what else is here, record, parents
)

// chainSize is the length of a chain value, and entryHead that of what stands
// before the op in an entry: form, chain value, op id.
const (
	chainSize = 32
	entryHead = 1 + chainSize + idSize
)

// entry is one value of the log.
type entry []byte

func newEntry(chain [chainSize]byte, id, raw []byte) entry {
	e := make(entry, 0, entryHead+len(raw))
	e = append(e, entryForm)
	e = append(e, chain[:]...)
	e = append(e, id...)
	return append(e, raw...)
}

func (e entry) sound() bool {
	return len(e) > entryHead && (e[0] == entryForm || e.dropped() && len(e) >= droppedHead && (len(e)-droppedHead)%idSize == 0)
}
func (e entry) dropped() bool { return e[0] == droppedForm }
func (e entry) chain() []byte { return e[1 : 1+chainSize] }
func (e entry) id() []byte    { return e[1+chainSize : entryHead] }
func (e entry) raw() []byte   { return e[entryHead:] } // of one that is not dropped

// follows tells whether the entry is what was once put behind last.
func (e entry) follows(last []byte) bool {
	if !e.sound() || e.dropped() && !e.linked() {
		return false
	}
	return vault.ChainSum(last, idText(e.id()), e.sum()) == [chainSize]byte(e.chain())
}

// entryAt reads the entry of a number, nil if there is none.
func entryAt(b *bbolt.Bucket, n uint64) entry {
	key := number(n)
	if e := b.Bucket(logBucket).Get(key); e != nil {
		return e
	}
	if rest := b.Bucket(droppedBucket); rest != nil {
		return rest.Get(key)
	}
	return nil
}

// entries reads those of a shop by number, dropped ones too.
type entries struct{ log, rest side }

// side is one of the two buckets they are in.
type side struct {
	c          *bbolt.Cursor
	key, value []byte
}

// entriesFrom begins at a number.
func entriesFrom(b *bbolt.Bucket, n uint64) *entries {
	w := &entries{}
	for name, s := range map[string]*side{string(logBucket): &w.log, string(droppedBucket): &w.rest} {
		if from := b.Bucket([]byte(name)); from != nil {
			s.c = from.Cursor()
			s.key, s.value = s.c.Seek(number(n))
		}
	}
	return w
}

// next returns the entry and moves on; the key is nil at the end.
func (w *entries) next() (key []byte, e entry) {
	s := &w.log
	if s.key == nil || w.rest.key != nil && bytes.Compare(w.rest.key, s.key) < 0 {
		s = &w.rest
	}
	if key, e = s.key, s.value; key != nil {
		s.key, s.value = s.c.Next()
	}
	return key, e
}

// number is the key of the log.
func number(n uint64) []byte { return binary.BigEndian.AppendUint64(nil, n) }

// idBytes writes an id as 16 bytes; it must be one by its Check.
func idBytes(id storage.ID) []byte {
	b := make([]byte, 0, idSize)
	for _, part := range []storage.ID{id[:8], id[9:13], id[14:18], id[19:23], id[24:]} {
		b, _ = hex.AppendDecode(b, []byte(part)) // digits, by its Check
	}
	return b
}

// idText is the id of 16 bytes.
func idText(b []byte) storage.ID {
	s := make([]byte, 0, 36)
	for i, part := range [][]byte{b[:4], b[4:6], b[6:8], b[8:10], b[10:16]} {
		if i > 0 {
			s = append(s, '-')
		}
		s = hex.AppendEncode(s, part)
	}
	return storage.ID(s)
}

// place is a value of the bucket ops.
type place []byte

func newPlace(n uint64, rec []byte) place { return append(number(n), rec...) }

func (p place) sound() bool    { return len(p) == 8+idSize }
func (p place) number() uint64 { return binary.BigEndian.Uint64(p) }
func (p place) rec() []byte    { return p[8:] }

// counts are kept so that Stats need not count.
type counts struct{ Records, Blobs, BlobBytes, Wanted, Dropped, Gone int64 }

// countsSize is the length of a row of counts, countsBefore that of schemaNoHistory.
const countsSize, countsBefore = 48, 32

func (c counts) bytes() []byte {
	var b []byte
	for _, n := range []int64{c.Records, c.Blobs, c.BlobBytes, c.Wanted, c.Dropped, c.Gone} {
		b = binary.BigEndian.AppendUint64(b, uint64(n))
	}
	return b
}

func readCounts(b []byte) (c counts, err error) {
	if len(b) != countsSize && len(b) != countsBefore {
		return c, fmt.Errorf("%w: the counts of a shop have %d bytes, not %d", storage.ErrCorrupt, len(b), countsSize)
	}
	for i, n := range []*int64{&c.Records, &c.Blobs, &c.BlobBytes, &c.Wanted, &c.Dropped, &c.Gone}[:len(b)/8] {
		*n = int64(binary.BigEndian.Uint64(b[8*i:]))
	}
	return c, nil
}

// Rows kept as JSON.
type (
	shopRow struct {
		N       uint64    `json:"n"` // order of creation
		Name    string    `json:"name"`
		Created time.Time `json:"created"`
	}
	deviceRow struct {
		N       uint64       `json:"n"` // order of adding
		Shop    vault.ShopID `json:"shop"`
		Name    string       `json:"name"`
		Token   []byte       `json:"token"` // its hash
		Added   time.Time    `json:"added"`
		Seen    time.Time    `json:"seen"`
		Revoked time.Time    `json:"revoked"`
	}
	codeRow struct {
		Shop    vault.ShopID `json:"shop"`
		Expires time.Time    `json:"expires"`
	}
	attemptsRow struct {
		N     uint64    `json:"n"` // of the last change, in the bucket of the order
		Count int       `json:"count"`
		Last  time.Time `json:"last"`
		Until time.Time `json:"until"`
	}
	auditRow struct {
		At     time.Time      `json:"at"`
		Shop   vault.ShopID   `json:"shop,omitempty"`
		Device vault.DeviceID `json:"device,omitempty"`
		Event  string         `json:"event"`
		Detail string         `json:"detail,omitempty"`
	}
)

// putRow stores a row as JSON.
func putRow(b *bbolt.Bucket, key []byte, row any) error {
	raw, err := json.Marshal(row)
	if err != nil {
		return err
	}
	return b.Put(key, raw)
}

// errNoRow: nothing is kept under a key.
var errNoRow = errors.New("no such row")

// getRow reads one.
func getRow(b *bbolt.Bucket, key []byte, row any) error {
	raw := b.Get(key)
	if raw == nil {
		return errNoRow
	}
	return readRow(raw, row)
}

func readRow(raw []byte, row any) error {
	if err := json.Unmarshal(raw, row); err != nil {
		return fmt.Errorf("%w: a row of the vault: %v", storage.ErrCorrupt, err)
	}
	return nil
}
