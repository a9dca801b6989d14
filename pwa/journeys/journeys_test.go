//go:build browser

package journeys

import (
	"testing"

	"torchside/pwa/journeys/browsertest"
)

func TestMain(m *testing.M) { browsertest.Run(m) }
