package state

// FieldVersions are the readings of one field in which the versions of a part differ.
type FieldVersions struct {
	Key, Label string
	Typed      bool     // typed text; else a chosen value
	Texts      []string // of each version, as [Form] holds it; "" where it is empty
	Shown      []string // the same for reading
	Op         []string // the version each is of
}

// fieldVersions lists where the versions of a part differ, for a choice field by field: the form is filled by it and saved on top of
// all of them. A version this build cannot read takes no part.
func (a App) fieldVersions(f *Form) []FieldVersions {
	var list []FieldVersions
	for _, s := range Specs(f.Kind) {
		v := FieldVersions{Key: s.Key, Label: s.Label, Typed: s.Type != TypeChoice}
		differ := false
		for _, one := range f.Versions {
			text := a.fieldText(s, f, one.part)
			differ = differ || len(v.Texts) > 0 && text != v.Texts[0]
			v.Texts, v.Shown, v.Op = append(v.Texts, text), append(v.Shown, s.said(text)), append(v.Op, one.Op)
		}
		if differ {
			list = append(list, v)
		}
	}
	return list
}

// said is a text of a field as people read it.
func (s Spec) said(text string) string {
	if text == "" {
		return "empty"
	}
	for _, o := range s.Options {
		if o.Value == text {
			return o.Label
		}
	}
	return text
}

// fieldText is what a form shows of one field of a part.
func (a App) fieldText(s Spec, f *Form, p Part) string {
	switch {
	case s.Key == "name":
		return p.Name
	case s.Key == "note":
		return p.Note
	case s.Type == TypeChoice:
		if text, ok := p.Choices[s.Key]; ok {
			return text
		}
		return s.Default
	case s.Type == TypeDate:
		return p.Dates[s.Key]
	}
	return a.valueText(s, f, p)
}

// Picked is the version whose reading of a field the form holds, as the op of it; "" when something else was typed.
func (f *Form) Picked(v FieldVersions) string {
	for i, text := range v.Texts {
		if f.texts[v.Key] == text {
			return v.Op[i]
		}
	}
	return ""
}
