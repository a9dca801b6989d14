package state

import (
	"slices"
	"strconv"

	"torchside/calc/order"
	"torchside/calc/words"
)

// ordersFile is where the text of the orders of work is kept: it is long, and read only when it is shown.
const ordersFile = "/web/orders.json"

// Orders are the orders of work, as far as they are shown.
type Orders struct {
	// ID, Step and Whole say what is open: an order, its step counted from 1, or all its steps on one page. The address holds them.
	ID    string
	Step  int
	Whole bool
	// Aloud is true while steps are read aloud as they come.
	Aloud   bool
	Problem string     // why there is nothing to show; empty when all is well or the text is still on its way
	View    *OrderView // the open order; nil for the list

	Book  Book
	Ready bool // Book is read
}

// OrderView is one order for the rig in use.
type OrderView struct {
	Order  Order
	Begin  *GetOut // what the order begins with; nil for most
	Steps  []StepView
	Sample bool // the rig in use is the sample rig
}

// GetOut is when to leave at once, and how.
type GetOut = order.GetOut

// OrderCaution is what to mind, before what it concerns.
type OrderCaution = order.Caution

// StepView is one step with what the rig adds to it.
type StepView struct {
	Step
	Choice  *ChoiceView // where sources differ
	Numbers *StepNumbers
}

// ChoiceView is a point on which sources differ, with the way in force.
type ChoiceView struct {
	order.Choice
	Selected string
	Torch    string // whose choice it is; empty while no torch is in use, then it cannot be kept
}

// Messages of the orders of work.
type (
	// OrdersAsked asks for the text, if it is not there.
	OrdersAsked struct{}
	// OrderOpened opens an order at a step.
	OrderOpened struct {
		ID    string
		Step  int
		Whole bool
	}
	// OrderClosed goes back to the list.
	OrderClosed struct{}
	// OrderStepped goes on by steps, or back.
	OrderStepped struct{ By int }
	// OrderWholeToggled shows all steps, or one.
	OrderWholeToggled struct{}
	// OrderChosen keeps the owner's choice with the torch in use.
	OrderChosen struct{ Choice, Value string }
	// OrderAloudToggled begins or ends reading aloud.
	OrderAloudToggled struct{}
)

func (OrdersAsked) msg()       {}
func (OrderOpened) msg()       {}
func (OrderClosed) msg()       {}
func (OrderStepped) msg()      {}
func (OrderWholeToggled) msg() {}
func (OrderChosen) msg()       {}
func (OrderAloudToggled) msg() {}

// ReadAloud speaks a text in place of whatever is being spoken; an empty one only ends that.
type ReadAloud struct{ Text string }

func (ReadAloud) effect() {}

func reduceOrders(a App, m Msg) (App, []Effect, bool) {
	switch m := m.(type) {
	case OrdersAsked:
		if a.Orders.Ready {
			return a.refreshOrders(), nil, true
		}
		return a, []Effect{ReadStatic{Address: ordersFile}}, true
	case StaticRead:
		if m.Address != ordersFile {
			return a, nil, false
		}
		return a.ordersRead(m), nil, true
	case OrderOpened:
		a.Orders.ID, a.Orders.Step, a.Orders.Whole = m.ID, max(1, m.Step), m.Whole
		a = a.refreshOrders()
		return a, a.spoken(ShowTop{}), true
	case OrderClosed:
		effects := a.hushed()
		a.Orders.ID, a.Orders.Whole, a.Orders.Aloud = "", false, false
		return a.refreshOrders(), append(effects, ShowTop{}), true
	case OrderStepped:
		a.Orders.Step += m.By
		a = a.refreshOrders()
		return a, a.spoken(ShowTop{}), true
	case OrderWholeToggled:
		a.Orders.Whole = !a.Orders.Whole
		a = a.refreshOrders()
		return a, a.spoken(ShowTop{}), true
	case OrderChosen:
		return did(a.orderChosen(m))
	case OrderAloudToggled:
		effects := a.hushed()
		a.Orders.Aloud = !a.Orders.Aloud
		return a, a.spoken(effects...), true
	}
	return a, nil, false
}

// ordersRead takes the text in; one that cannot be read leaves the emergency page, which needs none of it.
func (a App) ordersRead(m StaticRead) App {
	book, err := Book{}, m.Err
	if err == nil {
		book, err = order.Read(m.Data)
	}
	if err != nil {
		a.Orders.Problem = words.S("The orders of work could not be read: %s.", shorten(err.Error()))
		return a
	}
	a.Orders.Book, a.Orders.Ready, a.Orders.Problem = book, true, ""
	return a.refreshOrders()
}

// refreshOrders makes the open order anew for the rig as it is now. A step that this rig has not becomes the nearest it has.
func (a App) refreshOrders() App {
	s := &a.Orders
	s.View = nil
	if !s.Ready || s.ID == "" {
		return a
	}
	o, ok := s.Book.Order(s.ID)
	if !ok {
		s.ID, s.Problem = "", words.S("There is no order of work “%s”. Choose one below.", shorten(s.ID))
		return a
	}
	s.Problem = ""
	facts := a.orderFacts()
	steps, err := s.Book.Steps(s.ID, facts)
	if err != nil { // Order has found it
		return a.panicked(err.Error())
	}
	v := &OrderView{Order: o, Sample: a.Rig.Sample}
	if o.GetOut {
		v.Begin = &s.Book.GetOut
	}
	for _, step := range steps {
		v.Steps = append(v.Steps, StepView{Step: step, Choice: a.choiceView(step.Choice), Numbers: a.stepNumbers(step.Number, o)})
	}
	s.View, s.Step = v, min(max(1, s.Step), len(v.Steps))
	return a
}

// orderFacts are what the orders need to know of the rig in use; what is not entered stays unknown.
func (a App) orderFacts() order.Facts {
	facts := order.Facts{}
	if t, ok := a.inUse(KindTorch, ""); ok {
		facts[order.FactMixing] = t.Choices["mixing"]
		for _, c := range a.Orders.Book.Choices {
			facts[c.ID] = t.Choices[c.ID]
		}
	}
	switch fuel := a.fuelInUse(); fuel {
	case "":
	case "acetylene":
		facts[order.FactFuel] = order.FuelAcetylene
	default:
		facts[order.FactFuel] = order.FuelOther
	}
	return facts
}

// choiceView is a choice as it holds for the torch in use; nil for a step that none decides.
func (a App) choiceView(id string) *ChoiceView {
	c, ok := a.Orders.Book.Choice(id)
	if !ok {
		return nil
	}
	v := &ChoiceView{Choice: c, Selected: c.Default}
	if t, ok := a.inUse(KindTorch, ""); ok {
		v.Torch = a.partName(t)
		if own := t.Choices[id]; slices.ContainsFunc(c.Options, func(o order.Option) bool { return o.Value == own }) {
			v.Selected = own
		}
	}
	return v
}

// orderChosen keeps a choice with the torch in use.
func (a App) orderChosen(m OrderChosen) (App, []Effect) {
	c, ok := a.Orders.Book.Choice(m.Choice)
	t, inUse := a.inUse(KindTorch, "")
	if !ok || !inUse || !slices.ContainsFunc(c.Options, func(o order.Option) bool { return o.Value == m.Value }) {
		return a, nil
	}
	t = t.clone()
	if t.Choices == nil {
		t.Choices = map[string]string{}
	}
	t.Choices[c.ID] = m.Value
	return a.rewrite([]Part{t}, "")
}

// spoken adds the reading of what is shown, when it is to be read aloud.
func (a App) spoken(effects ...Effect) []Effect {
	s := a.Orders
	if !s.Aloud || s.View == nil {
		return effects
	}
	if !s.Whole {
		return append(effects, ReadAloud{Text: s.View.Steps[s.Step-1].words(s.Step)})
	}
	text := words.S("%s. ", s.View.Order.Title)
	for i, step := range s.View.Steps {
		text += words.S("%s ", step.words(i+1))
	}
	return append(effects, ReadAloud{Text: text})
}

// hushed ends the reading aloud.
func (a App) hushed() []Effect {
	if !a.Orders.Aloud {
		return nil
	}
	return []Effect{ReadAloud{}}
}

// words are a step as it is read aloud: the caution first.
func (v StepView) words(n int) string {
	text := words.S("Step %s. ", strconv.Itoa(n))
	if v.Only != "" {
		text += words.S("%s. ", v.Only)
	}
	if v.Caution != nil {
		text += words.S("Caution: %s ", v.Caution.Text)
	}
	return text + v.Do
}
