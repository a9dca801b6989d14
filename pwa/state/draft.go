package state

// Draft is what was typed and not saved, as it is kept in the browser. The zero Draft is none.
type Draft struct {
	Kind    Kind              `json:"kind,omitempty"` // of a part's form
	ID      string            `json:"id,omitempty"`   // of the part; "" for a new one
	TipID   string            `json:"tip,omitempty"`  // of a chart row
	RowsOf  string            `json:"rows_of,omitempty"`
	Texts   map[string]string `json:"texts,omitempty"`
	Choices map[string]string `json:"choices,omitempty"` // of Setup
	Units   string            `json:"units,omitempty"`   // the choice of units the texts were typed under
	Earlier *Draft            `json:"earlier,omitempty"` // of Setup: the last question that had a card
}

// The keys of drafts: Setup has one, each form has its own.
const (
	draftSetup = "setup"
	draftForm  = "form:"
)

// IsZero reports whether there is nothing in the draft.
func (d Draft) IsZero() bool {
	return d.Kind == "" && len(d.Texts) == 0 && len(d.Choices) == 0
}
