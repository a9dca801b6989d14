package main

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"errors"
	"fmt"
	"io/fs"
	"math/big"
	"net"
	"net/netip"
	"os"
	"path/filepath"
	"time"
)

const (
	day = 24 * time.Hour
	// authorityLife is ten years: a phone's owner should not have to install it twice.
	authorityLife = 3652 * day
	// leafLife stays below the 398 days that browsers accept from public authorities, and far
	// below the 825 days Apple allows under a user-added one (support.apple.com/103769).
	leafLife = 396 * day
	// backdate allows for a phone whose clock is behind.
	backdate = time.Hour
)

// permittedRanges are the addresses the authority may vouch for: loopback, private (RFC 1918,
// RFC 4193), link-local (RFC 3927, RFC 4291) and shared space used by private networks (RFC 6598).
// A stolen key can so never pass for a public site.
var permittedRanges = []netip.Prefix{
	netip.MustParsePrefix("127.0.0.0/8"), netip.MustParsePrefix("10.0.0.0/8"),
	netip.MustParsePrefix("172.16.0.0/12"), netip.MustParsePrefix("192.168.0.0/16"),
	netip.MustParsePrefix("169.254.0.0/16"), netip.MustParsePrefix("100.64.0.0/10"),
	netip.MustParsePrefix("::1/128"), netip.MustParsePrefix("fc00::/7"), netip.MustParsePrefix("fe80::/10"),
}

// keyPair is a certificate with its private key.
type keyPair struct {
	cert *x509.Certificate
	key  *ecdsa.PrivateKey
}

// newAuthorityPair makes the authority: P-256, no authorities below it, and critical name
// constraints (RFC 5280 section 4.2.1.10) to the shop's names and private addresses.
func newAuthorityPair(names []string, now time.Time) (keyPair, error) {
	host, _ := os.Hostname() // only part of a label
	template := &x509.Certificate{
		Subject:                     pkix.Name{CommonName: "Torchside shop authority " + host},
		NotBefore:                   now.Add(-backdate),
		NotAfter:                    now.Add(authorityLife),
		KeyUsage:                    x509.KeyUsageCertSign,
		IsCA:                        true,
		BasicConstraintsValid:       true,
		MaxPathLenZero:              true,
		PermittedDNSDomainsCritical: true,
		PermittedDNSDomains:         names,
	}
	for _, p := range permittedRanges {
		template.PermittedIPRanges = append(template.PermittedIPRanges, &net.IPNet{
			IP: p.Addr().AsSlice(), Mask: net.CIDRMask(p.Bits(), p.Addr().BitLen()),
		})
	}
	return newPair(template, keyPair{})
}

// newLeafPair makes the server's certificate.
func newLeafPair(ca keyPair, names []string, addrs []netip.Addr, now time.Time) (keyPair, error) {
	template := &x509.Certificate{
		Subject:               pkix.Name{CommonName: "Torchside server"},
		NotBefore:             now.Add(-backdate),
		NotAfter:              now.Add(-backdate).Add(leafLife),
		KeyUsage:              x509.KeyUsageDigitalSignature,
		ExtKeyUsage:           []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth},
		BasicConstraintsValid: true,
		DNSNames:              names,
	}
	for _, a := range addrs {
		template.IPAddresses = append(template.IPAddresses, a.AsSlice())
	}
	return newPair(template, ca)
}

// newPair signs a template with a parent, or with its own key if the parent is empty.
func newPair(template *x509.Certificate, parent keyPair) (keyPair, error) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return keyPair{}, err
	}
	serial, err := rand.Int(rand.Reader, new(big.Int).Lsh(big.NewInt(1), 127))
	if err != nil {
		return keyPair{}, err
	}
	template.SerialNumber = serial.Add(serial, big.NewInt(1)) // positive (RFC 5280 section 4.1.2.2)
	if parent.cert == nil {
		parent = keyPair{template, key}
	}
	der, err := x509.CreateCertificate(rand.Reader, template, parent.cert, &key.PublicKey, parent.key)
	if err != nil {
		return keyPair{}, err
	}
	cert, err := x509.ParseCertificate(der)
	return keyPair{cert, key}, err
}

// renewalTime is when two thirds of a certificate's life are over.
func renewalTime(cert *x509.Certificate) time.Time {
	return cert.NotBefore.Add(cert.NotAfter.Sub(cert.NotBefore) * 2 / 3)
}

// write stores the pair. Both files are written and synced aside before either takes its place:
// a full disk leaves the old pair as it is, never a new key beside an old certificate.
func (k keyPair) write(certPath, keyPath string) error {
	der, err := x509.MarshalPKCS8PrivateKey(k.key)
	if err != nil {
		return err
	}
	key, err := writeAside(keyPath, "PRIVATE KEY", der, 0o600)
	if err != nil {
		return err
	}
	defer os.Remove(key) // gone already when all went well
	cert, err := writeAside(certPath, "CERTIFICATE", k.cert.Raw, 0o644)
	if err != nil {
		return err
	}
	defer os.Remove(cert)
	if err := os.Rename(key, keyPath); err != nil {
		return err
	}
	return os.Rename(cert, certPath)
}

// writeAside writes a whole new file beside the one it is to replace and returns its name; after
// an error there is none.
func writeAside(path, kind string, der []byte, mode fs.FileMode) (string, error) {
	f, err := os.CreateTemp(filepath.Dir(path), ".new-*") // made with mode 0600
	if err != nil {
		return "", err
	}
	err = errors.Join(pem.Encode(f, &pem.Block{Type: kind, Bytes: der}), f.Chmod(mode), f.Sync(), f.Close())
	if err != nil {
		os.Remove(f.Name())
		return "", err
	}
	return f.Name(), nil
}

// readPair reads a stored pair; the error is fs.ErrNotExist (wrapped) if either file is missing.
func readPair(certPath, keyPath string) (keyPair, error) {
	pair, err := tls.LoadX509KeyPair(certPath, keyPath)
	if err != nil {
		return keyPair{}, err
	}
	key, ok := pair.PrivateKey.(*ecdsa.PrivateKey)
	if !ok {
		return keyPair{}, fmt.Errorf("%s holds no P-256 key", keyPath)
	}
	return keyPair{pair.Leaf, key}, nil
}
