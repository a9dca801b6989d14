// Package site knows under which address of its host the app lies: at the root of the shop's own server, or, as files on a static host,
// perhaps below a folder.
//
// All of the app speaks of its places from the app's own root ("/rig"). Call At where an address goes out to the browser, and Below where
// one comes in. Links, fetches and the history are the only such places.
package site

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

// base is the folder without a slash at its end; "" for the root. The page brings it.
func base() string { return strings.TrimRight(app.Getenv("GOAPP_ROOT_PREFIX"), "/") }

// At gives the address on the host for one of the app's own, with its query: "/rig?add=tip" becomes "/folder/rig?add=tip".
func At(address string) string { return base() + address }

// Below gives the app's own address for a path on the host. A slash at the end, which static hosts put behind the name of a folder, is no
// part of it.
func Below(path string) string {
	if b := base(); path == b || strings.HasPrefix(path, b+"/") {
		path = path[len(b):]
	}
	return "/" + strings.Trim(path, "/")
}

// Vault is the origin of the server with the shop's vault, as "https://host:port"; "" where the app comes from that server itself.
func Vault() string { return app.Getenv(VaultName) }

// VaultName is the variable in which the page of an exported site brings the origin of its vault.
const VaultName = "TORCHSIDE_VAULT"
