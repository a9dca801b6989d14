package main

import (
	"bytes"
	"crypto/sha1"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"path/filepath"
)

// sumsName is the list that "sha256sum -c" reads.
const sumsName = "SHA256SUMS"

// writeSums lists every file of the folder with its SHA-256, by name.
func writeSums(dir string) error {
	entries, err := os.ReadDir(dir) // sorted
	if err != nil {
		return err
	}
	var list bytes.Buffer
	for _, e := range entries {
		if e.Name() == sumsName {
			continue
		}
		sum, _, err := sums(filepath.Join(dir, e.Name()))
		if err != nil {
			return err
		}
		fmt.Fprintf(&list, "%s  %s\n", sum, e.Name())
	}
	return os.WriteFile(filepath.Join(dir, sumsName), list.Bytes(), 0o644)
}

// sums gives SHA-256 and SHA-1 of a file. SPDX 2.3 (8.4) demands SHA-1 of files; nothing here relies on it.
func sums(file string) (sum256, sum1 string, err error) {
	body, err := os.ReadFile(file)
	if err != nil {
		return "", "", err
	}
	a, b := sha256.Sum256(body), sha1.Sum(body)
	return hex.EncodeToString(a[:]), hex.EncodeToString(b[:]), nil
}
