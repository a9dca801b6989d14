package widgets

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/present"
)

// QR shows a code to be read by another device's camera.
func QR(d present.Drawing) app.UI { return drawing("qr-frame", d) }
