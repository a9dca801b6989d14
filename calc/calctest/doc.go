// Package calctest is what the tests of calc share: reading the reference tables of testdata/reference and the vectors of
// testdata/vectors, comparing with a stated tolerance, and reporting the worst error on every run.
//
// Start with Reference for a table, Vectors for worked examples, Near for one number and Worst for a whole table. Only _test
// files may import it. It never repairs what it reads: a missing column, an unreadable cell or an unknown field fails the test.
package calctest
