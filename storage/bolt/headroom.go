//go:build !js

package bolt

import (
	"math/bits"
	"os"
	"runtime"
)

// headroomFrom is the size, in bytes, of a file from which on room is kept ahead of it: smaller ones are copied in a moment.
var headroomFrom int64 = 64 << 20

// headroom is how many bytes of addresses to keep for the file, so that it can double before it has to be mapped anew. That waits for
// everybody who reads, as a backup does for as long as its target takes, and whoever comes then waits behind it. Addresses cost no
// memory; where there are few (32 bits), or where the file would be made as large (Windows), there is none: 0.
func headroom(path string) int {
	if bits.UintSize < 64 || runtime.GOOS == "windows" {
		return 0
	}
	info, err := os.Stat(path)
	if err != nil || info.Size() < headroomFrom {
		return 0
	}
	return int(2 * info.Size())
}
