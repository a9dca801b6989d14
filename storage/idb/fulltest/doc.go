// Package fulltest fills the browser's storage to its limit. It is a package
// of its own, so that it has a browser of its own: a browser asks how much is
// left only now and then, and does not notice a limit set after it asked.
package fulltest
