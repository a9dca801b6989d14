//go:build !js

package bolt

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"go.etcd.io/bbolt"
	berrors "go.etcd.io/bbolt/errors"

	"torchside/storage"
	"torchside/storage/vault"
)

// Report is what Check found.
type Report struct {
	Store    string
	Schema   string // of the file; an older one is not looked into
	Stats    vault.Stats
	Findings []Finding

	Lost      int   // attachments noted whose file is missing or damaged
	LostBytes int64 // their sizes together, as noted
	Mended    Mended

	lost   []blobRef // those lost
	unused []string  // files that nothing names
	damage int       // findings of damage, those too many to list included
}

// Mended says what Repair did.
type Mended struct {
	Wanted       int      // attachments asked for again
	Kept         []string // files of those that were damaged, where they are now
	Deleted      int      // files nothing named
	DeletedBytes int64
}

// blobRef names an attachment of a shop.
type blobRef struct {
	shop vault.ShopID
	hash storage.Hash
}

// Finding is one thing that is not as it should be.
type Finding struct {
	Damage bool   // something that should be there is not, or is wrong; else it only takes up room
	What   string // and where
	Do     string // what to do about it
}

// Sound tells whether nothing is damaged.
func (r Report) Sound() bool { return r.damage == 0 }

// Ways out, by what is damaged.
const (
	doRestore = `put the last backup back with "torchside restore FILE"; the phones then send what is newer`
	doBlob    = `"torchside check --repair" asks the phones for it again`
	doAside   = `it may belong to the vault that a restore put aside (%s); it is deleted by "torchside check --repair" once that file is gone`
	doRemove  = `it does no harm; "torchside check --repair" deletes it`
)

// maxFindings is how many findings of one vault are listed.
const maxFindings = 100

// Check looks at everything in the vault of a folder, which no process may have
// open for writing, and changes nothing. A vault that cannot be opened is a
// finding too.
//
// ErrInUse: a process has it open. fs.ErrNotExist: there is none.
// storage.ErrNewer: a newer program wrote it.
func Check(ctx context.Context, folder string) (Report, error) {
	path := filepath.Join(folder, vaultFile)
	if _, err := os.Stat(path); err != nil {
		return Report{}, noVault(err)
	}
	c := &checker{folder: folder, path: path, ctx: ctx}
	err := c.open()
	var d *DamageError
	if errors.As(err, &d) {
		if inUse(path) { // what looks damaged is being written
			return Report{}, fmt.Errorf("%w: %s: stop the server first", ErrInUse, path)
		}
		c.damaged(d.What, doRestore)
		return c.report, nil
	}
	return c.report, err
}

func noVault(err error) error { return fmt.Errorf("no vault to check: %w", err) }

// checker looks at one vault.
type checker struct {
	ctx    context.Context
	folder string
	path   string
	tx     *bbolt.Tx
	report Report
}

// damaged adds a finding of damage.
func (c *checker) damaged(what, do string) { c.add(Finding{Damage: true, What: what, Do: do}) }

func (c *checker) add(f Finding) {
	if f.Damage {
		c.report.damage++
	}
	if len(c.report.Findings) == maxFindings {
		f = Finding{Damage: f.Damage, What: "and more", Do: f.Do}
	}
	if len(c.report.Findings) <= maxFindings {
		c.report.Findings = append(c.report.Findings, f)
	}
}

// lookAtPages looks at a file before the library maps it.
func lookAtPages(path string) error {
	if err := examine(path); err != nil {
		return err
	}
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	m, ok := newestMeta(f)
	if !ok {
		return damage(path, "it is empty")
	}
	if err := walk(f, m); err != nil {
		return damage(path, err.Error())
	}
	return nil
}

// inUse tells whether a process has a vault open for writing. A file that cannot be opened at all is in nobody's use.
func inUse(path string) bool {
	var db *bbolt.DB
	err := guard(path, func() (err error) {
		db, err = bbolt.Open(path, 0o600, &bbolt.Options{ReadOnly: true, Timeout: lockWait})
		return err
	})
	if err == nil {
		_ = db.Close() // nothing was written
	}
	return errors.Is(err, berrors.ErrTimeout)
}

// open reads the vault in one transaction.
func (c *checker) open() error {
	db, err := openToRead(c.path)
	if err != nil {
		return err
	}
	err = guard(c.path, func() error {
		return db.View(func(tx *bbolt.Tx) error {
			c.tx = tx
			return c.all()
		})
	})
	return errors.Join(err, db.Close())
}

// all looks at the parts of the vault.
func (c *checker) all() error {
	for err := range c.tx.Check() {
		c.damaged("the database: "+err.Error(), doRestore)
	}
	meta := c.tx.Bucket(metaBucket)
	if meta == nil || len(meta.Get(storeKey)) != 32 || len(meta.Get(schemaKey)) == 0 {
		return damage(c.path, "it does not say which vault it is")
	}
	c.report.Store, c.report.Schema = string(meta.Get(storeKey)), string(meta.Get(schemaKey))
	switch {
	case !isKnown(c.report.Schema):
		return newerLayout(c.path, c.report.Schema)
	case c.report.Schema == schemaFirst:
		return nil // the next start brings it up to date
	}
	for _, name := range topBuckets {
		if c.tx.Bucket(name) == nil {
			return damage(c.path, fmt.Sprintf("its part %q is missing", name))
		}
	}
	return c.contents()
}

func (c *checker) contents() error {
	shops, err := shopList(c.tx)
	if err != nil {
		return damage(c.path, err.Error())
	}
	c.report.Stats.FileBytes = c.tx.Size()
	admitted := c.access(shops)
	files, err := c.files()
	if err != nil {
		return err
	}
	for _, s := range shops {
		stats, err := c.shop(s, files)
		if err != nil {
			return err
		}
		stats.Devices = admitted[s.ID]
		c.report.Stats.Shops = append(c.report.Stats.Shops, stats)
	}
	return c.unnamed(files.left())
}

// unnamed tells of files that no change names. While there is a vault that a restore put aside they stay: it may name them.
func (c *checker) unnamed(paths []string) error {
	aside, err := asides(c.path)
	if err != nil {
		return err
	}
	do := doRemove
	if len(aside) > 0 {
		do = fmt.Sprintf(doAside, strings.Join(aside, ", "))
	} else {
		c.report.unused = paths
	}
	for _, path := range paths {
		c.add(Finding{What: "no change names the file " + path, Do: do})
	}
	return nil
}

// access looks at devices, tokens, codes, attempts and the audit log, and
// counts the devices that may ask.
func (c *checker) access(shops []vault.Shop) map[vault.ShopID]int {
	there := make(map[vault.ShopID]bool)
	for _, s := range shops {
		there[s.ID] = true
	}
	admitted, tokens := make(map[vault.ShopID]int), 0
	c.rows(devicesBucket, func(id, raw []byte) error {
		var row deviceRow
		if err := readRow(raw, &row); err != nil {
			return err
		}
		tokens++
		if !there[row.Shop] || string(c.tx.Bucket(tokensBucket).Get(row.Token)) != string(id) {
			return errors.New("its shop or its token is not there")
		}
		if row.Revoked.IsZero() {
			admitted[row.Shop]++
		}
		return nil
	})
	c.rows(tokensBucket, func(_, id []byte) error {
		if tokens--; c.tx.Bucket(devicesBucket).Get(id) == nil {
			return errors.New("its device is not there")
		}
		return nil
	})
	if tokens != 0 {
		c.damaged("there are not as many tokens as devices", doRestore)
	}
	c.rows(codesBucket, func(_, raw []byte) error {
		var row codeRow
		if err := readRow(raw, &row); err != nil || there[row.Shop] {
			return err
		}
		return errors.New("its shop is not there")
	})
	c.memory()
	return admitted
}

// memory looks at attempts and the audit log.
func (c *checker) memory() {
	order := c.tx.Bucket(orderBucket)
	ordered := 0
	c.rows(attemptsBucket, func(key, raw []byte) error {
		var row attemptsRow
		if err := readRow(raw, &row); err != nil {
			return err
		}
		if ordered++; string(order.Get(number(row.N))) != string(key) {
			return errors.New("its place in the order is not there")
		}
		return nil
	})
	c.rows(orderBucket, func(_, _ []byte) error { ordered--; return nil })
	if ordered != 0 {
		c.damaged("the order of failed attempts names others than there are", doRestore)
	}
	c.rows(auditBucket, func(_, raw []byte) error {
		var row auditRow
		return readRow(raw, &row)
	})
}

// rows looks at each row of a bucket.
func (c *checker) rows(name []byte, f func(key, value []byte) error) {
	err := c.tx.Bucket(name).ForEach(func(k, v []byte) error {
		if err := f(k, v); err != nil {
			c.damaged(fmt.Sprintf("%s, %.40q: %v", name, k, err), doRestore)
		}
		return c.ctx.Err()
	})
	if err != nil {
		c.damaged(fmt.Sprintf("%s: %v", name, err), doRestore)
	}
}
