package present

import (
	"torchside/calc/setup"
	"torchside/calc/words"
)

// Sheet tells where one number comes from.
type Sheet struct {
	Key     string
	Title   string
	Value   string
	Band    string // sentence; empty without a band
	Kind    string
	Source  string
	Memory  string // sentence; empty when nothing is from memory
	Formula string
	Inputs  []Line
	Reason  string
	Others  []Line
}

// Line is a name and what is said of it.
type Line struct{ Name, Text string }

// memorySentence tells what a value from memory may do.
const memorySentence = "Part of this is from memory: nobody has checked it in its source yet. Treat it as a reminder, not as a rule."

// NewSheet tells where the number with this key comes from. Of a number without a provenance it says that nothing is told.
func NewSheet(c setup.Card, key string, o Options) Sheet {
	p, ok := c.Provenance[key]
	if !ok {
		p.Reason = "where this comes from is not told"
	}
	b := newBuilder(c, o)
	n := NewCard(c, o).number(key)
	s := Sheet{Key: key, Title: n.Label, Value: n.Text(), Kind: string(p.Kind), Source: o.Units.Say(p.Source), Formula: o.Units.Say(p.Formula), Reason: finished(o.Units.Say(p.Reason))}
	if s.Title == "" {
		s.Title = words.Capital(fieldPath(key))
	}
	if n.Band != "" {
		s.Band = words.S("From %s.", n.Band)
	}
	if p.FromMemory {
		s.Memory = memorySentence
	}
	for _, v := range p.Inputs {
		s.Inputs = append(s.Inputs, Line{words.Capital(v.Name), b.scaler.input(v).text(v.SI)})
	}
	for _, a := range p.Others {
		s.Others = append(s.Others, b.other(key, a))
	}
	return s
}

// other is what a weaker source says for the same number.
func (b *builder) other(key string, a setup.Alternative) Line {
	name := words.S("%s: %s", words.Capital(string(a.Kind)), b.opt.Units.Say(a.Source))
	if a.FromMemory {
		name += words.T(" (from memory)")
	}
	return Line{name, b.scaler.of(key).text(a.Value)}
}

// number finds a shown number by its key; the zero Number when it is not shown.
func (c Card) number(key string) Number {
	for _, n := range c.Numbers() {
		if n.Key == key {
			return n
		}
	}
	return Number{}
}

// Numbers returns all numbers of the card in the order they are shown.
func (c Card) Numbers() []Number {
	list := []Number{c.Tip.Number()}
	for _, g := range c.Gases {
		set := g.Regulator
		set.Label = words.S("%s regulator", words.Capital(g.Name))
		list = append(list, set, g.Torch, g.Flow, g.Minutes)
	}
	list = append(append(append(list, c.Heating...), c.Cutting...), c.Joint...)
	list = append(list, c.Flame.Numbers()...)
	list = append(list, c.Supply...)
	return append(list, c.Work...)
}
