package order

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
)

// Book is all orders of work.
type Book struct {
	First   string   `json:"first"`   // what comes before this aid
	GetOut  GetOut   `json:"get_out"` // what comes before everything
	Choices []Choice `json:"choices"`
	Orders  []Order  `json:"orders"`
}

// GetOut is when to leave at once, and how.
type GetOut struct {
	Title  string   `json:"title"`
	Signs  []string `json:"signs"`
	Steps  []string `json:"steps"`
	Never  string   `json:"never"`
	Why    string   `json:"why"`
	Source string   `json:"source"`
}

// Choice is a point on which sources differ; the owner may follow another one than Default, which is the safer.
type Choice struct {
	ID       string   `json:"id"`
	Question string   `json:"question"`
	Options  []Option `json:"options"`
	Default  string   `json:"default"`
	Reason   string   `json:"reason"` // why the default is the default
}

// Option is one way to do it.
type Option struct {
	Value  string `json:"value"`
	Label  string `json:"label"`
	Why    string `json:"why"`
	Source string `json:"source"`
}

// Order is one order of work.
type Order struct {
	ID        string            `json:"id"`
	Title     string            `json:"title"`
	Group     string            `json:"group"`               // GroupWork or GroupTrouble
	Emergency bool              `json:"emergency,omitempty"` // it also stands on the emergency page
	GetOut    bool              `json:"get_out,omitempty"`   // it begins with Book.GetOut
	About     string            `json:"about,omitempty"`     // how to tell that this is it
	Cautions  []Caution         `json:"cautions,omitempty"`  // before the first step
	Given     map[string]string `json:"given,omitempty"`     // facts that hold for this order
	Like      string            `json:"like,omitempty"`      // cautions and steps are those of another order
	Steps     []Step            `json:"steps,omitempty"`
}

// The groups of orders.
const (
	GroupWork    = "work"
	GroupTrouble = "trouble"
)

// Caution is what to mind, before what it concerns.
type Caution struct {
	Text   string `json:"text"`
	Source string `json:"source"`
}

// Step is one thing to do. Source names a document, or says "common practice, no source".
type Step struct {
	ID        string            `json:"id"`
	Do        string            `json:"do"`
	Why       string            `json:"why"`
	Source    string            `json:"source"`
	Caution   *Caution          `json:"caution,omitempty"` // stands before Do and the number
	Number    string            `json:"number,omitempty"`  // one of the Number constants: a number of the rig that belongs here
	Choice    string            `json:"choice,omitempty"`  // the Choice that decides this step
	When      map[string]string `json:"when,omitempty"`    // facts that must hold, by name
	Link      string            `json:"link,omitempty"`    // address within the app
	LinkLabel string            `json:"link_label,omitempty"`

	// Only says for whom a step is when a fact is not known; empty when it is for this rig.
	Only string `json:"-"`
}

// The numbers a step may carry.
const (
	NumberOxygen    = "oxygen_pressure"  // at the regulator
	NumberFuel      = "fuel_pressure"    // at the regulator
	NumberBoth      = "both_pressures"   // both of them
	NumberCutting   = "cutting_pressure" // oxygen at the regulator with the cutting jet open
	NumberPurgeOxy  = "oxygen_purge"     // seconds
	NumberPurgeFuel = "fuel_purge"       // seconds
	NumberTurns     = "acetylene_turns"  // of the cylinder valve
	NumberTip       = "tip"
	NumberShade     = "shade"
	NumberFireWatch = "fire_watch"
)

var numbers = []string{NumberOxygen, NumberFuel, NumberBoth, NumberCutting, NumberPurgeOxy, NumberPurgeFuel, NumberTurns, NumberTip, NumberShade, NumberFireWatch}

// MaxAcetyleneTurns is how far an acetylene cylinder valve may be opened, BestAcetyleneTurns how far it preferably is: 29 CFR
// 1926.350(d) and WAC 296-307-48019(9) (testdata/reference/limits.csv, rows ACE-V1 and ACE-V2).
const (
	MaxAcetyleneTurns  = 1.5
	BestAcetyleneTurns = 0.75
)

// Parse reads a book and checks it as a whole. The error names order and step. The server does so before it sends the text.
func Parse(text []byte) (Book, error) {
	b, err := Read(text)
	if err != nil {
		return Book{}, err
	}
	if err := b.check(); err != nil {
		return Book{}, fmt.Errorf("orders of work: %w", err)
	}
	return b, nil
}

// Read reads a book that Parse has checked already, as the browser does, which need not carry the checks.
func Read(text []byte) (Book, error) {
	var b Book
	if err := json.Unmarshal(text, &b); err != nil {
		return Book{}, fmt.Errorf("orders of work: %w", err)
	}
	if len(b.Orders) == 0 || len(b.GetOut.Steps) == 0 {
		return Book{}, errors.New("orders of work: the text holds none")
	}
	return b, nil
}

// Order finds an order by its id, with its steps.
func (b Book) Order(id string) (Order, bool) {
	o, ok := b.find(id)
	if other, like := b.find(o.Like); ok && like { // which has steps of its own: check has seen to it
		o.Cautions, o.Steps = other.Cautions, other.Steps
	}
	return o, ok
}

// find finds an order as it was written.
func (b Book) find(id string) (Order, bool) {
	i := slices.IndexFunc(b.Orders, func(o Order) bool { return o.ID == id })
	if i < 0 {
		return Order{}, false
	}
	return b.Orders[i], true
}

// Choice finds a choice by its id.
func (b Book) Choice(id string) (Choice, bool) {
	for _, c := range b.Choices {
		if c.ID == id {
			return c, true
		}
	}
	return Choice{}, false
}
