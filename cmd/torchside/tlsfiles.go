package main

import (
	"crypto/tls"
	"fmt"
	"io"
	"os"
	"sync"
	"time"
)

// certificateFiles is a certificate kept by somebody else (a VPN, a renewal tool), read again
// whenever its files change.
type certificateFiles struct {
	certPath, keyPath string
	notes             io.Writer

	mu      sync.Mutex
	current *tls.Certificate
	changed time.Time // of the newer file, when current was read
}

// openCertificateFiles reads both files once, so that a wrong path is known at the start.
func openCertificateFiles(certPath, keyPath string, notes io.Writer) (*certificateFiles, error) {
	f := &certificateFiles{certPath: certPath, keyPath: keyPath, notes: notes}
	changed, err := f.newest()
	if err == nil {
		err = f.read(changed)
	}
	if err != nil {
		return nil, fmt.Errorf("the certificate %s with key %s cannot be used: %w", certPath, keyPath, err)
	}
	return f, nil
}

// get gives the present certificate. If new files cannot be read, perhaps because only one has
// been written yet, the old certificate stays and the reason is told once per change.
func (f *certificateFiles) get(*tls.ClientHelloInfo) (*tls.Certificate, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	changed, err := f.newest()
	if err == nil && changed.Equal(f.changed) {
		return f.current, nil
	}
	if err == nil {
		err = f.read(changed)
	}
	if err != nil {
		fmt.Fprintf(f.notes, "torchside: the changed certificate is not used yet: %v\n", err)
	}
	return f.current, nil
}

func (f *certificateFiles) read(changed time.Time) error {
	f.changed = changed
	cert, err := tls.LoadX509KeyPair(f.certPath, f.keyPath)
	if err == nil {
		f.current = &cert
	}
	return err
}

// newest is when either file was last written.
func (f *certificateFiles) newest() (time.Time, error) {
	cert, err := os.Stat(f.certPath)
	if err != nil {
		return time.Time{}, err
	}
	key, err := os.Stat(f.keyPath)
	if err != nil {
		return time.Time{}, err
	}
	if key.ModTime().After(cert.ModTime()) {
		return key.ModTime(), nil
	}
	return cert.ModTime(), nil
}

// names are the names and addresses the certificate was issued for.
func (f *certificateFiles) names() []string {
	f.mu.Lock()
	defer f.mu.Unlock()
	names := append([]string(nil), f.current.Leaf.DNSNames...)
	for _, ip := range f.current.Leaf.IPAddresses {
		names = append(names, ip.String())
	}
	return names
}
