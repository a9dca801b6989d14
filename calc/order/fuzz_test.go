package order

import (
	"os"
	"testing"
)

// A book that passes can give the steps of each of its orders, whatever is known of the rig.
func FuzzParse(f *testing.F) {
	text, err := os.ReadFile("../../web/static/orders.json")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(text)
	f.Add([]byte(`{"get_out":{"title":"t","signs":["s"],"steps":["s"],"never":"n"},"orders":[{"id":"a","title":"A","steps":[{"id":"s","do":"d","why":"w","source":"s"}]}]}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		b, err := Parse(text)
		if err != nil {
			return
		}
		for _, o := range b.Orders {
			for _, facts := range []Facts{nil, {FactHead: HeadCutting, FactFuel: FuelOther}, {FactMixing: "injector"}} {
				if steps, err := b.Steps(o.ID, facts); err != nil || len(o.Steps) > 0 && facts == nil && len(steps) == 0 {
					t.Fatalf("%s: %d steps, %v", o.ID, len(steps), err)
				}
			}
		}
	})
}
