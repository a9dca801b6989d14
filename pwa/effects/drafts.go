package effects

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/state"
)

// draftPrefix begins the name of every draft in the local storage.
const draftPrefix = "torchside/draft/"

// asideName is the name under which a window keeps the names that differ from the keys.
const asideName = "torchside/aside"

// draftBox keeps the drafts of one window. All windows of the app share the local storage: a form that another window wrote
// to since this one last did is neither overwritten nor forgotten; this window's text then lies beside it under a name of
// its own, and both are offered after a reload.
type draftBox struct {
	all   app.BrowserStorage // of all windows
	mine  app.BrowserStorage // of this window
	known map[string]string  // by name: what this window last read or wrote
	aside map[string]string  // names by key, where they differ; each name is that of one key
}

// drafts reads what was kept.
func (b *draftBox) drafts() map[string]state.Draft {
	if b.mine.Get(asideName, &b.aside) != nil {
		b.aside = nil
	}
	keys := map[string]string{}
	for key, name := range b.aside {
		keys[name] = key
	}
	drafts := map[string]state.Draft{}
	b.all.ForEach(func(full string) {
		name, ok := strings.CutPrefix(full, draftPrefix)
		if !ok {
			return
		}
		text, d := b.stored(name)
		if d.IsZero() {
			return
		}
		key, ok := keys[name]
		if !ok {
			key = name
		}
		drafts[key] = d
		b.note(name, text)
	})
	return drafts
}

// keep writes or forgets one draft. Only forms, which have a kind, are kept apart: of a question of Setup and of a reading the
// last one holds.
func (b *draftBox) keep(key string, d state.Draft) error {
	name := b.name(key)
	text, there := b.stored(name)
	foreign := there.Kind != "" && text != b.known[name]
	switch {
	case d.IsZero() && foreign:
		return nil
	case d.IsZero():
		b.all.Del(draftPrefix + name)
		delete(b.known, name)
		return nil
	case foreign:
		name = b.apart(key, name)
	}
	body, err := json.Marshal(d)
	if err == nil {
		err = b.all.Set(draftPrefix+name, json.RawMessage(body))
	}
	if err != nil {
		return fmt.Errorf("this browser keeps no drafts: %w", err)
	}
	b.note(name, string(body))
	return nil
}

func (b *draftBox) name(key string) string {
	if name, ok := b.aside[key]; ok {
		return name
	}
	return key
}

// apart gives a key a free name in exchange for the one another window uses. This window keeps the exchange, so that a reload
// shows under each key what it showed before.
func (b *draftBox) apart(key, old string) string {
	for n := 2; ; n++ {
		name := key + "#" + strconv.Itoa(n)
		if _, taken := b.aside[name]; taken || b.all.Contains(draftPrefix+name) {
			continue
		}
		if b.aside == nil {
			b.aside = map[string]string{}
		}
		b.aside[key], b.aside[name] = name, old
		_ = b.mine.Set(asideName, b.aside) // refused, a reload shows the two the other way round
		return name
	}
}

func (b *draftBox) note(name, text string) {
	if b.known == nil {
		b.known = map[string]string{}
	}
	b.known[name] = text
}

// stored reads a draft and its text; what cannot be read is no draft.
func (b *draftBox) stored(name string) (string, state.Draft) {
	var text json.RawMessage
	var d state.Draft
	if b.all.Get(draftPrefix+name, &text) != nil || json.Unmarshal(text, &d) != nil {
		return "", state.Draft{}
	}
	return string(text), d
}
