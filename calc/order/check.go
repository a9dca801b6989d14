package order

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"torchside/calc/words"
)

// check refuses a book with a gap: an order nobody can follow is found when it is read, not when it is needed.
func (b Book) check() error {
	if err := b.GetOut.check(); err != nil {
		return err
	}
	for _, c := range b.Choices {
		if err := c.check(); err != nil {
			return fmt.Errorf("choice %s: %w", c.ID, err)
		}
	}
	seen := map[string]bool{}
	for _, o := range b.Orders {
		if seen[o.ID] {
			return fmt.Errorf(words.T("order %s is there twice"), o.ID)
		}
		seen[o.ID] = true
		if err := b.checkOrder(o); err != nil {
			return fmt.Errorf("order %s: %w", o.ID, err)
		}
	}
	return nil
}

func (g GetOut) check() error {
	if g.Title == "" || len(g.Signs) == 0 || len(g.Steps) == 0 || g.Never == "" || g.Source == "" {
		return errors.New("get_out needs title, signs, steps, never and source")
	}
	return nil
}

func (c Choice) check() error {
	if c.Question == "" || c.Reason == "" || len(c.Options) < 2 {
		return errors.New("question, reason and two options are needed")
	}
	if !slices.ContainsFunc(c.Options, func(o Option) bool { return o.Value == c.Default }) {
		return fmt.Errorf(words.T("the default %q is no option"), c.Default)
	}
	for _, o := range c.Options {
		if o.Label == "" || o.Why == "" || o.Source == "" {
			return fmt.Errorf(words.T("option %q needs label, why and source"), o.Value)
		}
	}
	return nil
}

func (b Book) checkOrder(o Order) error {
	if o.ID == "" || o.Title == "" || o.Group != GroupWork && o.Group != GroupTrouble {
		return errors.New("id, title and a known group are needed")
	}
	if o.Like != "" {
		if other, ok := b.find(o.Like); !ok || other.Like != "" || len(o.Steps) > 0 {
			return fmt.Errorf(words.T("it is like %q: that must be another order with steps of its own"), o.Like)
		}
		return b.checkFacts(o.Given)
	}
	if len(o.Steps) == 0 {
		return errors.New("it has no steps")
	}
	for _, c := range o.Cautions {
		if c.Text == "" || c.Source == "" {
			return errors.New("a caution needs text and source")
		}
	}
	seen := map[string]bool{}
	for _, s := range o.Steps {
		if seen[s.ID] {
			return fmt.Errorf(words.T("step %s is there twice"), s.ID)
		}
		seen[s.ID] = true
		if err := b.checkStep(s); err != nil {
			return fmt.Errorf("step %s: %w", s.ID, err)
		}
	}
	return b.checkFacts(o.Given)
}

func (b Book) checkStep(s Step) error {
	switch {
	case s.ID == "" || s.Do == "" || s.Why == "" || s.Source == "":
		return errors.New("id, do, why and source are needed")
	case s.Caution != nil && (s.Caution.Text == "" || s.Caution.Source == ""):
		return errors.New("its caution needs text and source")
	case s.Number != "" && !slices.Contains(numbers, s.Number):
		return fmt.Errorf(words.T("no such number: %q"), s.Number)
	case s.Link != "" && (!strings.HasPrefix(s.Link, "/") || s.LinkLabel == ""):
		return errors.New("a link leads within the app and has a label")
	}
	if s.Choice != "" {
		if _, ok := b.Choice(s.Choice); !ok {
			return fmt.Errorf(words.T("no such choice: %q"), s.Choice)
		}
	}
	return b.checkFacts(s.When)
}

// checkFacts refuses a fact that no rig can have.
func (b Book) checkFacts(facts map[string]string) error {
	for name, value := range facts {
		if c, ok := b.Choice(name); ok {
			if !slices.ContainsFunc(c.Options, func(o Option) bool { return o.Value == value }) {
				return fmt.Errorf(words.T("%s is never %q"), name, value)
			}
			continue
		}
		if _, ok := factWords[name][value]; !ok {
			return fmt.Errorf(words.T("%s is never %q"), name, value)
		}
	}
	return nil
}
