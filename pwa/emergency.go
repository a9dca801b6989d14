//go:build !js

package pwa

import (
	"bytes"
	_ "embed" // the pages
	"html/template"

	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

//go:embed emergency.html
var emergencyTemplate string

// abilitiesPage tests what the phone can do. It is a page beside the program too: web/static/abilities.js does all of it.
//
//go:embed abilities.html
var abilitiesPage []byte

// Pages beside the program: the server and the worker send them as they are. No route has them.
const (
	emergencyPath = widgets.EmergencyPath
	abilitiesPath = "/abilities"
	wordsPath     = "/words.js" // what puts them into the language chosen
)

// emergencyPage writes what to do in an emergency, from the orders of work, as one page that needs no script (those it has set light or dark, and put it into the language chosen): it must read before the
// program is there, and without it. The worker keeps it and serves it as it is.
func emergencyPage(orders []byte) ([]byte, error) {
	book, err := state.ReadBook(orders)
	if err != nil {
		return nil, err
	}
	page := struct {
		state.Book
		Orders []state.Order
	}{Book: book}
	for _, o := range book.Orders {
		if o, ok := book.Order(o.ID); ok && o.Emergency {
			page.Orders = append(page.Orders, o)
		}
	}
	form, err := template.New("emergency").Parse(emergencyTemplate)
	if err != nil {
		return nil, err
	}
	var text bytes.Buffer
	err = form.Execute(&text, page)
	return text.Bytes(), err
}
