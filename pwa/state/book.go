package state

import "torchside/calc/order"

// Book is all orders of work, Order one of them; see package calc/order.
type (
	Book  = order.Book
	Order = order.Order
	Step  = order.Step
)

// ReadBook reads the orders of work from their file and checks them: the server does so when it starts.
func ReadBook(text []byte) (Book, error) { return order.Parse(text) }
