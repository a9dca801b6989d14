package state

import (
	"maps"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"
)

// Law: whatever is tapped and typed, in any order, an error never changes a saved part, the last good card stays until a new
// one replaces it, no number reaches calc that is not finite, and an older App is not changed by a newer message.
func TestReduce_keeps_its_laws_on_random_messages(t *testing.T) {
	texts := []string{"", "3", "-3", "abc", "1/0", "4 km", "500 bar", "2,200 psi", "1/8 in", "0", "#60", "1e309", "0.3", "٣", strings.Repeat("9", 400)}
	for seed := range uint64(30) {
		random := rand.New(rand.NewPCG(seed, 1))
		w := byHand(t)
		for range 60 {
			w.randomStep(random, texts)
		}
	}
}

func (w *world) randomStep(random *rand.Rand, texts []string) {
	w.t.Helper()
	text := texts[random.IntN(len(texts))]
	keys := []string{"name", "gauge_pressure", "water_volume", "length", "inside_diameter", "orifice_diameter", "thickness_low", "thickness_high", "fuel_high", "gas", "line"}
	ids := make([]string, 0, len(w.app.Rig.parts))
	for _, k := range append(partKinds, KindChartRow) {
		for _, p := range w.app.parts(k) {
			ids = append(ids, p.ID)
		}
	}
	id := "none"
	if len(ids) > 0 {
		id = ids[random.IntN(len(ids))]
	}
	messages := []Msg{
		SetupTyped{Field: "thickness", Text: text}, SetupTyped{Field: "ratio", Text: text}, SetupTyped{Field: "altitude", Text: text},
		SetupChosen{Field: "work", Value: text}, SetupChosen{Field: "work", Value: "weld"}, PartOpened{ID: id}, PartCopied{ID: id},
		PartAdded{Kind: partKinds[random.IntN(len(partKinds))], Line: LineFuel}, PartAdded{Kind: KindChartRow, TipID: id}, PartAdded{Kind: "nonsense"},
		FormTyped{Key: keys[random.IntN(len(keys))], Text: text}, FormSaved{}, FormCancelled{}, UndoRequested{}, PartUsed{ID: id},
		PartRetired{ID: id, Back: random.IntN(2) == 0}, PrefTyped{Key: PrefTemperature, Text: text}, UnitsChosen{System: us(w.t)}, UnitsChosen{}, OtherWrote{},
	}
	m := messages[random.IntN(len(messages))]
	old := w.app
	copied := old.Rig.parts
	snapshot := maps.Clone(copied)
	before, card := w.bodies(), w.app.Setup.Card
	w.post(m)
	if !reflect.DeepEqual(snapshot, copied) {
		w.t.Fatalf("%#v changed an older app", m)
	}
	if f := w.app.Rig.Form; f != nil && firstError(f.Fields) != "" && !maps.Equal(before, w.bodies()) && isSave(m) {
		w.t.Fatalf("%#v saved a form with a mistake", m)
	}
	if card != nil && w.app.Setup.Card == nil {
		w.t.Fatalf("%#v took the last good card away", m)
	}
	if len(w.app.Setup.Errors) > 0 && !reflect.DeepEqual(card, w.app.Setup.Card) && !w.app.Setup.Stale {
		w.t.Fatalf("%#v gave a new card from a mistake", m)
	}
}

func isSave(m Msg) bool { _, ok := m.(FormSaved); return ok }
