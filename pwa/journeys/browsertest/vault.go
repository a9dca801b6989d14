//go:build browser

package browsertest

import (
	"time"

	"torchside/storage/bolt"
)

// DropOldVersions has the vault of a stopped server drop every version that was replaced, as if its owner had set
// a limit of a day and three days had passed, and returns how many it dropped.
func (s *Server) DropOldVersions() int {
	s.t.Helper()
	v, err := bolt.Open(s.data)
	if err != nil {
		s.t.Fatal(err)
	}
	defer v.Close()
	ctx, dropped := s.t.Context(), 0
	shops, err := v.Shops(ctx)
	if err != nil {
		s.t.Fatal(err)
	}
	for _, shop := range shops {
		if err := v.SetKeep(ctx, shop.ID, 1, time.Now()); err != nil {
			s.t.Fatal(err)
		}
		for day := range 2 {
			if err := v.MarkDay(ctx, time.Now().AddDate(0, 0, day+1)); err != nil {
				s.t.Fatal(err)
			}
		}
		done, err := v.Trim(ctx, shop.ID)
		if err != nil {
			s.t.Fatal(err)
		}
		dropped += done.Ops
	}
	return dropped
}
