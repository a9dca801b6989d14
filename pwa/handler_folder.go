//go:build !js

package pwa

import (
	"bytes"
	"html"
	"regexp"
	"strings"
)

// rootLink is a link of a page to an address of the app's own root; "//" would be another host.
var rootLink = regexp.MustCompile(`\b(href|src)="(/(?:[^/"][^"]*)?)"`)

// placed gives a page for where the app lies: links lead into its folder, and where no server of ours adds the header that binds a page to
// our own files, the page says so itself.
func (c Config) placed(page []byte) []byte {
	page = rootLink.ReplaceAllFunc(page, func(link []byte) []byte {
		m := rootLink.FindSubmatch(link)
		address := string(m[2])
		if c.Base != "" && address != c.Base && !strings.HasPrefix(address, c.Base+"/") {
			address = c.Base + address
		}
		return []byte(string(m[1]) + `="` + address + `"`)
	})
	if !c.PolicyInPage {
		return page
	}
	policy := `<meta http-equiv="Content-Security-Policy" content="` + html.EscapeString(c.policy()) + `">`
	return bytes.Replace(page, []byte("<head>"), []byte("<head>\n"+policy+"\n<meta name=\"referrer\" content=\"same-origin\">"), 1)
}

// policy is the one of the server, with the vault as the only other place to speak to. What pages cannot demand by themselves is left out
// (Content Security Policy Level 3, section 3.3).
func (c Config) policy() string {
	policy := strings.Replace(contentSecurityPolicy, "; frame-ancestors 'none'", "", 1)
	if c.Vault == "" {
		return policy
	}
	return strings.Replace(policy, "connect-src 'self'", "connect-src 'self' "+c.Vault, 1)
}
