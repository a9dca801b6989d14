//go:build js

package words

import "syscall/js"

// The page's script (pwa/words.js) has read the catalogue before the program begins. It is taken here, and not by the program's
// wiring, because variables of other packages hold texts too.
func init() {
	read := js.Global().Get("torchsideWords")
	if read.Truthy() {
		use(read.Get("language").String(), read.Get("chosen").String(), read.Get("texts").String())
	}
}
