package journal

import (
	"maps"
	"slices"
	"strings"
)

// Pickable reports whether a line of [Compare] is a field that one of two versions of a sheet can give: what is worked out from
// others, and photos, which are always kept of both, are not.
func (d Difference) Pickable() bool {
	return !d.Same && d.Field != "overall" && d.Field != "travel_speed" && d.Field != "photos"
}

// Merge makes one sheet of two versions of it: the first, with the fields of the second that fromB names as [Compare] does. Photos of
// both are kept, each once, and so is what only the second has of a settings card and of fields this build does not know.
func Merge(a, b Sheet, fromB map[string]bool) Sheet {
	out := a
	out.Scores, out.Typed, out.extra = maps.Clone(a.Scores), maps.Clone(a.Typed), maps.Clone(a.extra)
	out.Skipped, out.Photos = slices.Clone(a.Skipped), slices.Clone(a.Photos)
	from := mergeWords(&b)
	for field, at := range mergeWords(&out) {
		if fromB[field] {
			*at = *from[field]
		}
	}
	for _, n := range b.numbers() {
		if fromB[n.Field] {
			out = out.WithNumber(n.Field, n.value)
			out.Typed = put(out.Typed, n.Field, b.Typed)
		}
	}
	for field, take := range fromB {
		if id, ok := strings.CutPrefix(field, "scores."); ok && take {
			out.Scores = put(out.Scores, id, b.Scores)
			out.Skipped = slices.DeleteFunc(out.Skipped, func(s string) bool { return s == id })
		}
	}
	if fromB["tests"] {
		out.Tests = slices.Clone(b.Tests)
	}
	for _, p := range b.Photos {
		if !slices.ContainsFunc(out.Photos, func(q Photo) bool { return q.Hash == p.Hash && q.Role == p.Role }) {
			out.Photos = append(out.Photos, p)
		}
	}
	if len(out.Card) == 0 {
		out.Card = b.Card
	}
	for name := range b.extra {
		if _, has := out.extra[name]; !has {
			out.extra = put(out.extra, name, b.extra)
		}
	}
	out.Finished = a.Finished || b.Finished
	return out
}

// mergeWords are the texts and words of a sheet by their JSON name.
func mergeWords(s *Sheet) map[string]*string {
	return map[string]*string{"at": &s.At, "title": &s.Title, "work": &s.Work, "metal": &s.Metal, "joint": &s.Joint, "position": &s.Position, "drill": &s.Drill,
		"tip": &s.Tip, "fuel": &s.Fuel, "flame": &s.Flame, "filler": &s.Filler, "flux": &s.Flux, "place": &s.Place, "wrong": &s.Wrong, "next": &s.Next, "note": &s.Note}
}

// put sets a key as another map has it, or takes it away.
func put[V any](m map[string]V, key string, other map[string]V) map[string]V {
	v, ok := other[key]
	if !ok {
		delete(m, key)
		return m
	}
	if m == nil {
		m = map[string]V{}
	}
	m[key] = v
	return m
}
