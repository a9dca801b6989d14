package state

import "torchside/storage"

// Effects that ask the store for what is not loaded: kinds with thousands of records, and attachments. Each is answered by one
// message with the same Token, in the order asked, after the writes asked for before it. An answer with Err holds nothing else.
type (
	// FindRecords asks for one page of records; answered with RecordsFound.
	FindRecords struct {
		Token int
		Find  storage.Find
	}
	// CountTerms asks for the terms of a kind that begin with one of the prefixes; answered with one TermsCounted for all of them.
	CountTerms struct {
		Token    int
		Kind     string
		Prefixes []string
	}
	// ReadRecord asks for one record, a deleted one too; answered with RecordRead.
	ReadRecord struct {
		Token int
		ID    storage.ID
	}
	// PutBlob stores an attachment; answered with BlobStored once it is durable.
	PutBlob struct {
		Token int
		Data  []byte
	}
	// ReadBlob asks for an attachment; answered with BlobRead.
	ReadBlob struct {
		Token int
		Hash  storage.Hash
	}
	// DropOrphans removes attachments that were put more than a day ago and belong to nothing, except those named. It is not
	// answered: what cannot be removed now is removed another time.
	DropOrphans struct{ Keep []storage.Hash }
)

func (FindRecords) effect() {}
func (CountTerms) effect()  {}
func (ReadRecord) effect()  {}
func (PutBlob) effect()     {}
func (ReadBlob) effect()    {}
func (DropOrphans) effect() {}

// Answers of the store to them.
type (
	// RecordsFound answers FindRecords. Asked names the question, so that an answer to an older one can be told.
	RecordsFound struct {
		Token int
		Asked storage.Find
		Page  storage.Page
		Err   error
	}
	// TermsCounted answers CountTerms. Terms are by prefix.
	TermsCounted struct {
		Token int
		Kind  string
		Terms map[string][]storage.TermCount
		Err   error
	}
	// RecordRead answers ReadRecord.
	RecordRead struct {
		Token  int
		ID     storage.ID
		Record storage.Record
		Err    error
	}
	// BlobStored answers PutBlob. After storage.ErrFull everything else is as it was: the record can be saved without it.
	BlobStored struct {
		Token int
		Hash  storage.Hash
		Size  int
		Err   error
	}
	// BlobRead answers ReadBlob.
	BlobRead struct {
		Token int
		Hash  storage.Hash
		Data  []byte
		Err   error
	}
)

func (RecordsFound) msg() {}
func (TermsCounted) msg() {}
func (RecordRead) msg()   {}
func (BlobStored) msg()   {}
func (BlobRead) msg()     {}
