package storage

// Forgotten lists what goes when a store forgets an op of a record, of which ops
// are all that is held: the op and then whatever it descends from that nothing
// else names. Else what the op replaced would look like a head again. It is
// none if the op is not held, or is named as a parent.
func Forgotten(ops []Op, id ID) []ID {
	held, names := make(map[ID]Op, len(ops)), make(map[ID]int)
	for _, op := range ops {
		held[op.ID] = op
		for _, p := range op.Parents {
			names[p]++
		}
	}
	var gone []ID
	for todo := []ID{id}; len(todo) > 0; {
		op, here := held[todo[0]]
		todo = todo[1:]
		if !here || names[op.ID] > 0 {
			continue
		}
		delete(held, op.ID)
		gone = append(gone, op.ID)
		for _, p := range op.Parents {
			names[p]--
			todo = append(todo, p)
		}
	}
	return gone
}
