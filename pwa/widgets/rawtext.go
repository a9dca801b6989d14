package widgets

// rawText keeps what a person types apart from what comes back through the state. A value that comes back late must not
// overwrite letters typed since, so the browser's text is left alone unless the value was never typed here. The zero value
// is ready.
type rawText struct {
	mounted bool
	first   string   // what the input was mounted with; never changes afterwards
	pending []string // sent up, not yet come back
	came    string   // what came down last
	shown   string   // what the input shows, as far as this side knows
}

// mount sets the text the input starts with.
func (r *rawText) mount(value string) {
	r.mounted, r.first, r.came, r.shown = true, value, value, value
}

// attribute is what to render: the browser's text is set through the property once the input stands.
func (r *rawText) attribute(value string) string {
	if !r.mounted {
		return value
	}
	return r.first
}

// typed notes a text that is sent up.
func (r *rawText) typed(text string) {
	r.shown = text
	r.pending = append(r.pending, text)
}

// arrived takes a value that came down and reports whether the input must be set to it. The same value comes down again whenever
// another field changes, also while letters typed here are still on their way up: it is no news then.
func (r *rawText) arrived(value string) bool {
	if value == r.came {
		return false
	}
	r.came = value
	for i, p := range r.pending {
		if p == value {
			r.pending = r.pending[i+1:]
			return false
		}
	}
	if value == r.shown {
		return false
	}
	r.shown, r.pending = value, nil
	return true
}
