package present

import "torchside/calc/setup"

// Cache keeps the last card and the last sheet that were written, so that a page that is drawn again for another reason does
// no work. The zero value is ready. A Cache belongs to one page.
type Cache struct {
	card *setup.Card
	opt  Options
	view Card

	sheetKey string
	sheet    Sheet
}

// Card writes a card, or returns what was written for the same card and options.
func (c *Cache) Card(card *setup.Card, o Options) Card {
	if c.card != card || c.opt != o {
		*c = Cache{card: card, opt: o, view: NewCard(*card, o)}
	}
	return c.view
}

// Sheet tells where a number of the card comes from.
func (c *Cache) Sheet(card *setup.Card, key string, o Options) Sheet {
	c.Card(card, o)
	if c.sheetKey != key {
		c.sheetKey = key
		c.sheet = NewSheet(*card, key, o)
	}
	return c.sheet
}
