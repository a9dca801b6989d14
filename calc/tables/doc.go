// Package tables is the book of bench tables: what the file of tables holds, how it is read, and how it is searched.
//
// The tables themselves are no part of the program. web/tables makes their file out of testdata/reference; a browser reads it when it
// is to be shown. Every value keeps its source and how far it is to be trusted; where sources differ all of them stand in one entry.
package tables
