//go:build browser

package browsertest

import (
	"bytes"
	"context"
	"os/exec"
	"regexp"
	"strings"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
)

// Offline cuts the window off from every network, or lets it back.
func (p *Page) Offline(cut bool) {
	p.t.Helper()
	must(p, network.EmulateNetworkConditionsByRule, network.EmulateNetworkConditionsByRuleParams{MatchedNetworkConditions: []*network.Conditions{
		{DownloadThroughput: -1, UploadThroughput: -1, Offline: cut},
	}})
}

// codeShown is a pairing code as the command line prints it.
var codeShown = regexp.MustCompile(`(\d{4} \d{4})\s*$`)

// Code asks the running server for a code that lets one device in.
func (s *Server) Code() string {
	s.t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	cmd := exec.CommandContext(ctx, Binary(s.t), "pair", "--data", s.data)
	var complaint bytes.Buffer
	cmd.Stderr = &complaint
	out, err := cmd.Output()
	if err != nil {
		s.t.Fatalf("pair: %v: %s", err, complaint.String())
	}
	found := codeShown.FindSubmatch(out)
	if found == nil {
		s.t.Fatalf("pair printed no code:\n%s", out)
	}
	return strings.ReplaceAll(string(found[1]), " ", "")
}

// NoScript switches the scripts of every document opened from now on off.
func (p *Page) NoScript() {
	p.t.Helper()
	must(p, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
}
