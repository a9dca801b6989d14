package main

import (
	"encoding/json"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"time"
)

// The shapes below follow SPDX 2.3 (ISO/IEC 5962 as continued by it) in JSON; field names are the specification's.
type document struct {
	SPDXVersion       string         `json:"spdxVersion"`
	DataLicense       string         `json:"dataLicense"`
	ID                string         `json:"SPDXID"`
	Name              string         `json:"name"`
	Namespace         string         `json:"documentNamespace"`
	CreationInfo      creation       `json:"creationInfo"`
	DocumentDescribes []string       `json:"documentDescribes"`
	Packages          []spdxPackage  `json:"packages"`
	Files             []spdxFile     `json:"files"`
	Relationships     []relationship `json:"relationships"`
}

type creation struct {
	Created  string   `json:"created"`
	Creators []string `json:"creators"`
}

type spdxPackage struct {
	ID               string      `json:"SPDXID"`
	Name             string      `json:"name"`
	Version          string      `json:"versionInfo"`
	DownloadLocation string      `json:"downloadLocation"`
	FilesAnalyzed    bool        `json:"filesAnalyzed"`
	SourceInfo       string      `json:"sourceInfo,omitempty"`
	LicenseConcluded string      `json:"licenseConcluded"`
	LicenseDeclared  string      `json:"licenseDeclared"`
	Copyright        string      `json:"copyrightText"`
	Refs             []reference `json:"externalRefs,omitempty"`
	Purpose          string      `json:"primaryPackagePurpose"`
}

type reference struct {
	Category string `json:"referenceCategory"`
	Type     string `json:"referenceType"`
	Locator  string `json:"referenceLocator"`
}

type spdxFile struct {
	ID               string     `json:"SPDXID"`
	Name             string     `json:"fileName"`
	Types            []string   `json:"fileTypes"`
	Checksums        []checksum `json:"checksums"`
	LicenseConcluded string     `json:"licenseConcluded"`
	Copyright        string     `json:"copyrightText"`
}

type checksum struct {
	Algorithm string `json:"algorithm"`
	Value     string `json:"checksumValue"`
}

type relationship struct {
	From string `json:"spdxElementId"`
	Type string `json:"relationshipType"`
	To   string `json:"relatedSpdxElement"`
}

const (
	noAssertion = "NOASSERTION"
	documentID  = "SPDXRef-DOCUMENT"
	ourID       = "SPDXRef-Package-torchside"
)

// spdx lists what is inside the programs. The same order, parts and programs give the same bytes: the time is that of the last change.
func spdx(o order, parts []part, programs []program) ([]byte, error) {
	own, err := packageOf(part{path: "torchside", version: o.version, dir: "."}, ourID)
	if err != nil {
		return nil, err
	}
	own.Purpose, own.SourceInfo = "APPLICATION", "hash of the sources of the app inside: "+o.build
	d := document{
		SPDXVersion: "SPDX-2.3", DataLicense: "CC0-1.0", ID: documentID, Name: "torchside-" + o.version,
		Namespace:         "https://spdx.org/spdxdocs/torchside-" + o.version + "-" + o.build,
		CreationInfo:      creation{lastChange(), []string{"Tool: torchside-dist"}},
		DocumentDescribes: []string{ourID},
		Packages:          []spdxPackage{own},
		Relationships:     []relationship{{documentID, "DESCRIBES", ourID}},
	}
	for _, p := range parts {
		one, err := packageOf(p, "SPDXRef-Package-"+spdxName(p.path))
		if err != nil {
			return nil, err
		}
		d.Packages = append(d.Packages, one)
		d.Relationships = append(d.Relationships, relationship{ourID, "STATIC_LINK", one.ID})
	}
	for _, p := range programs {
		one, err := fileOf(o.dir, p)
		if err != nil {
			return nil, err
		}
		d.Files = append(d.Files, one)
		d.Relationships = append(d.Relationships, relationship{one.ID, "GENERATED_FROM", ourID})
	}
	body, err := json.MarshalIndent(d, "", "  ")
	return append(body, '\n'), err
}

func packageOf(p part, id string) (spdxPackage, error) {
	licence, err := licenceID(p)
	if err != nil {
		return spdxPackage{}, err
	}
	one := spdxPackage{
		ID: id, Name: p.path, Version: p.version, DownloadLocation: noAssertion,
		LicenseConcluded: licence, LicenseDeclared: licence, Copyright: noAssertion, Purpose: "LIBRARY",
	}
	if p.path == "torchside" {
		return one, nil
	}
	one.Refs = []reference{{"PACKAGE-MANAGER", "purl", "pkg:golang/" + p.path + "@" + p.version}}
	if p.sum != "" {
		one.SourceInfo = "sum of the sources as in go.sum: " + p.sum
	}
	return one, nil
}

func fileOf(dir string, p program) (spdxFile, error) {
	sum256, sum1, err := sums(filepath.Join(dir, p.name))
	return spdxFile{
		ID: "SPDXRef-File-" + spdxName(p.target.label()), Name: "./" + p.name, Types: []string{"BINARY"},
		Checksums:        []checksum{{"SHA1", sum1}, {"SHA256", sum256}},
		LicenseConcluded: noAssertion, Copyright: noAssertion,
	}, err
}

// notInName is what an identifier of SPDX 2.3 (clause 3) may not have.
var notInName = regexp.MustCompile(`[^A-Za-z0-9.-]+`)

func spdxName(s string) string { return notInName.ReplaceAllString(s, "-") }

// lastChange is the time of the last commit; where there is no git, the first moment of our count: any fixed one is as good.
func lastChange() string {
	out, err := exec.Command("git", "log", "-1", "--format=%cI").Output()
	at, bad := time.Parse(time.RFC3339, strings.TrimSpace(string(out)))
	if err != nil || bad != nil {
		at = time.Unix(0, 0)
	}
	return at.UTC().Format("2006-01-02T15:04:05Z")
}
