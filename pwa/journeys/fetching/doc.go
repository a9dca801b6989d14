// Package fetching holds the test of storage/remote in a browser: the client's requests through the
// page's own fetch, against a real server.
package fetching
