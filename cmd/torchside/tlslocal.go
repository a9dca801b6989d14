package main

import (
	"crypto/tls"
	"crypto/x509"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net"
	"net/netip"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"time"
)

// authority is the shop's own certificate authority (--tls-local). Phones install its certificate
// once; from then on they trust the server's own, which is renewed without them.
type authority struct {
	folder string
	pair   keyPair
	names  []string // host names the server answers to
	notes  io.Writer

	mu        sync.Mutex
	leaf      *tls.Certificate
	addrs     []netip.Addr // addresses in leaf
	checked   time.Time
	renewFrom time.Time
	told      bool // that the certificate could not be renewed
}

// How often a handshake looks whether the machine's addresses have changed.
const addressCheck = time.Minute

// openAuthority reads the authority from folder, or makes it there at the first start. wanted are
// the names asked for by the owner, who must be told if the authority cannot vouch for one. What goes wrong later is told to notes.
func openAuthority(folder string, wanted []string, notes io.Writer) (*authority, error) {
	wanted = slices.DeleteFunc(slices.Clone(wanted), isAddress)
	names := newHosts(wanted...).names
	a := &authority{folder: folder, notes: notes}
	pair, err := readPair(a.file("ca.pem"), a.file("ca-key.pem"))
	if errors.Is(err, fs.ErrNotExist) {
		pair, err = a.create(names)
	}
	if err != nil {
		return nil, fmt.Errorf("the certificate authority in %s: %w", folder, err)
	}
	a.pair = pair
	for _, name := range wanted {
		if !a.vouchesFor(name) {
			return nil, fmt.Errorf("the certificate authority in %s was made for %v and cannot vouch for %q: leave that name out, or move the folder away so that a new one is made (each phone must then install it again)",
				folder, pair.cert.PermittedDNSDomains, name)
		}
	}
	a.names = slices.DeleteFunc(names, func(name string) bool { return !a.vouchesFor(name) })
	_, err = a.get(nil)
	return a, err
}

func isAddress(name string) bool {
	_, err := netip.ParseAddr(name)
	return err == nil || name == ""
}

func (a *authority) file(name string) string { return filepath.Join(a.folder, name) }

// create makes a new authority. Half of one, a key without its certificate, is not overwritten:
// phones may trust it.
func (a *authority) create(names []string) (keyPair, error) {
	if err := os.MkdirAll(a.folder, 0o700); err != nil {
		return keyPair{}, err
	}
	for _, name := range []string{"ca.pem", "ca-key.pem"} {
		if _, err := os.Stat(a.file(name)); err == nil {
			return keyPair{}, fmt.Errorf("only %s is there and its other half is missing: restore it, or move the folder away to make a new one", name)
		}
	}
	pair, err := newAuthorityPair(names, time.Now())
	if err != nil {
		return keyPair{}, err
	}
	return pair, pair.write(a.file("ca.pem"), a.file("ca-key.pem"))
}

// vouchesFor reports whether the authority's name constraints permit a host name.
func (a *authority) vouchesFor(name string) bool {
	for _, domain := range a.pair.cert.PermittedDNSDomains {
		if name == domain || len(name) > len(domain) && name[len(name)-len(domain)-1:] == "."+domain {
			return true
		}
	}
	return false
}

// get gives the server's certificate, making a new one when two thirds of its life are over or
// the machine has other addresses than it names. One that cannot be made or stored, as on a full
// disk, is tried again later; until then the old one serves on.
func (a *authority) get(*tls.ClientHelloInfo) (*tls.Certificate, error) {
	a.mu.Lock()
	defer a.mu.Unlock()
	now := time.Now()
	if a.leaf != nil && now.Sub(a.checked) < addressCheck && (a.told || now.Before(a.renewFrom)) {
		return a.leaf, nil
	}
	addrs := privateAddrs()
	if a.leaf != nil && !a.told && slices.Equal(addrs, a.addrs) && now.Before(a.renewFrom) {
		a.checked = now
		return a.leaf, nil
	}
	leaf, err := a.currentLeaf(addrs, now)
	if err != nil {
		return a.notRenewed(err, now)
	}
	if a.told {
		fmt.Fprintln(a.notes, "torchside: the server's certificate is renewed now")
		a.told = false
	}
	a.use(leaf, addrs, now)
	return a.leaf, nil
}

// notRenewed keeps the old certificate, the one in use or else the stored one, as long as phones
// accept it, and says so once.
func (a *authority) notRenewed(why error, now time.Time) (*tls.Certificate, error) {
	if a.leaf == nil {
		leaf, err := readPair(a.file("server.pem"), a.file("server-key.pem"))
		if err != nil || leaf.cert.CheckSignatureFrom(a.pair.cert) != nil {
			return nil, why
		}
		a.use(leaf, nil, now)
	}
	if now.After(a.leaf.Leaf.NotAfter) {
		return nil, why
	}
	if !a.told {
		fmt.Fprintf(a.notes, "torchside: the server's certificate could not be renewed (%v). The old one, good until %s, is used; the next try is in %v\n",
			why, a.leaf.Leaf.NotAfter.Format(time.DateOnly), addressCheck)
	}
	a.told, a.checked = true, now
	return a.leaf, nil
}

func (a *authority) use(leaf keyPair, addrs []netip.Addr, now time.Time) {
	a.leaf = &tls.Certificate{
		Certificate: [][]byte{leaf.cert.Raw, a.pair.cert.Raw},
		PrivateKey:  leaf.key,
		Leaf:        leaf.cert,
	}
	a.addrs, a.checked, a.renewFrom = addrs, now, renewalTime(leaf.cert)
}

// currentLeaf takes the stored certificate if it still serves, else makes and stores a new one.
func (a *authority) currentLeaf(addrs []netip.Addr, now time.Time) (keyPair, error) {
	certPath, keyPath := a.file("server.pem"), a.file("server-key.pem")
	if leaf, err := readPair(certPath, keyPath); err == nil && a.serves(leaf.cert, addrs, now) {
		return leaf, nil
	}
	leaf, err := newLeafPair(a.pair, a.names, addrs, now)
	if err != nil {
		return keyPair{}, err
	}
	return leaf, leaf.write(certPath, keyPath)
}

// serves reports whether a stored certificate is ours, young enough, and for the same hosts.
func (a *authority) serves(cert *x509.Certificate, addrs []netip.Addr, now time.Time) bool {
	return cert.CheckSignatureFrom(a.pair.cert) == nil &&
		now.After(cert.NotBefore) && now.Before(renewalTime(cert)) &&
		slices.Equal(cert.DNSNames, a.names) &&
		slices.EqualFunc(cert.IPAddresses, addrs, func(ip net.IP, addr netip.Addr) bool { return ip.Equal(addr.AsSlice()) })
}

// privateAddrs are the machine's addresses that the authority may vouch for, sorted.
func privateAddrs() []netip.Addr {
	all := []netip.Addr{netip.MustParseAddr("127.0.0.1"), netip.IPv6Loopback()}
	for _, a := range ownAddrs() {
		if slices.ContainsFunc(permittedRanges, func(p netip.Prefix) bool { return p.Contains(a) }) {
			all = append(all, a.WithZone(""))
		}
	}
	slices.SortFunc(all, netip.Addr.Compare)
	return slices.Compact(all)
}
