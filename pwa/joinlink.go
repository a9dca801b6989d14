package pwa

import (
	"net/url"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/site"
	"torchside/pwa/state"
)

// joinFragment stands before a code in the fragment of an address, as the server writes it. A fragment never leaves the browser.
const joinFragment = "join="

// devicesPath is the page a code leads to.
const devicesPath = "/devices"

// takeCode takes a code off the address, so that no bookmark and no history keeps it, and leads to where it is used.
func (s *Shell) takeCode(ctx app.Context, u *url.URL) bool {
	code, ok := strings.CutPrefix(u.Fragment, joinFragment)
	if !ok {
		return false
	}
	app.Window().Get("history").Call("replaceState", nil, "", site.At(devicesPath))
	s.path = devicesPath
	s.receive(ctx, state.JoinLinked{Code: code})
	ctx.Page().SetTitle(s.title())
	return true
}
