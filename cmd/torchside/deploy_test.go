package main

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"testing"
)

const deployFolder = "../../deploy/"

func deployed(t *testing.T, name string) string {
	t.Helper()
	body, err := os.ReadFile(deployFolder + name)
	if err != nil {
		t.Fatal(err)
	}
	return string(body)
}

// understood fails if this very program would refuse the command line; it must be one of serve.
func understood(t *testing.T, where string, args []string) {
	t.Helper()
	if len(args) < 2 || filepath.Base(args[0]) != "torchside" || args[1] != "serve" {
		t.Errorf("%s starts %q, not torchside serve", where, args)
		return
	}
	none := func(string) (string, bool) { return "", false }
	o, err := parseOptions(args[2:], none, io.Discard)
	if err != nil {
		t.Errorf("%s: %q is not understood: %v", where, args, err)
	} else if !o.secure() || !filepath.IsAbs(o.data) {
		t.Errorf("%s: phones need TLS, and a service a folder for its data: %q", where, args)
	}
}

func TestDeploy_whatStartsTheServerIsUnderstood(t *testing.T) {
	unit := regexp.MustCompile(`(?m)^ExecStart=(.*)$`).FindStringSubmatch(deployed(t, "torchside.service"))
	if unit == nil {
		t.Fatal("the unit starts nothing")
	}
	understood(t, "torchside.service", strings.Fields(unit[1]))
	var entry []string
	found := regexp.MustCompile(`(?m)^ENTRYPOINT (.*)$`).FindStringSubmatch(deployed(t, "Containerfile"))
	if found == nil {
		t.Fatal("the image starts nothing")
	}
	if err := json.Unmarshal([]byte(found[1]), &entry); err != nil {
		t.Fatal(err)
	}
	understood(t, "Containerfile", append(entry, "--names", "shop.lan"))
	understood(t, "torchside.plist", plistArguments(t))
}

// plistArguments reads the property list as XML and gives the strings of ProgramArguments.
func plistArguments(t *testing.T) []string {
	t.Helper()
	var args []string
	var key, element string
	for d := xml.NewDecoder(strings.NewReader(deployed(t, "torchside.plist"))); ; {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return args
		}
		if err != nil {
			t.Fatal(err)
		}
		switch v := token.(type) {
		case xml.StartElement:
			element = v.Name.Local
		case xml.EndElement:
			element = ""
		case xml.CharData:
			if element == "key" {
				key = string(v)
			} else if element == "string" && key == "ProgramArguments" {
				args = append(args, string(v))
			}
		}
	}
}

// None of the three may run as root or be able to become it.
func TestDeploy_nothingRunsAsRoot(t *testing.T) {
	for name, wanted := range map[string][]string{
		"torchside.service": {"\nDynamicUser=yes\n", "\nNoNewPrivileges=yes\n", "\nProtectSystem=strict\n"},
		"torchside.plist":   {"<key>UserName</key>\n\t<string>_torchside</string>"},
		"Containerfile":     {"\nUSER 65532:65532\n", "\nFROM scratch\n"},
	} {
		for _, w := range wanted {
			if !strings.Contains(deployed(t, name), w) {
				t.Errorf("%s does not say %q", name, strings.TrimSpace(w))
			}
		}
	}
}

// systemd itself reads the unit where it is installed; elsewhere the test above is all.
func TestDeploy_systemdUnderstandsTheUnit(t *testing.T) {
	analyze, err := exec.LookPath("systemd-analyze")
	if runtime.GOOS != "linux" || err != nil {
		t.Skip("no systemd on this machine")
	}
	var said bytes.Buffer
	cmd := exec.Command(analyze, "verify", deployFolder+"torchside.service")
	cmd.Stdout, cmd.Stderr = &said, &said
	_ = cmd.Run() // it also fails when the program is not installed, which is told apart below
	for line := range strings.Lines(said.String()) {
		if strings.Contains(line, "torchside.service") && !strings.Contains(line, "/usr/local/bin/torchside is not executable") {
			t.Error(line)
		}
	}
}
