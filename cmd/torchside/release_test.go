package main

import (
	"strings"
	"testing"
)

// What git calls the sources stands before the hash of the app inside; without git the hash stands alone (testdata/script/version.txt).
func TestVersion_namesTheRelease(t *testing.T) {
	defer func(was string) { release = was }(release)
	release = "v1.2-3-gabc"
	var said strings.Builder
	p := program{stdout: &said, stderr: &said, files: builtFiles()}
	if code := p.run(t.Context(), []string{"version"}); code != exitOK || !strings.HasPrefix(said.String(), "torchside v1.2-3-gabc, build v-test, go1.") {
		t.Errorf("exit code %d, %q", code, said.String())
	}
}
