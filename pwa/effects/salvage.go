package effects

import (
	"context"

	"torchside/storage"
)

// salvagePage is how many briefs are read at a time.
const salvagePage = 200

// salvaged reads the records of the kinds that are never all in memory, for a file that cannot be made of the whole store: each by
// itself, so that one that cannot be read keeps none of the others back. lost is how many could not be read. A list that breaks off
// counts as one.
func (r *Runner) salvaged(ctx context.Context, s storage.Store) (records []storage.Record, lost int) {
	for _, kind := range r.ports.Queried {
		find := storage.Find{Kind: kind, Newest: true, Limit: salvagePage, Briefs: true}
		for {
			page, err := s.Find(ctx, find)
			if err != nil {
				lost++
				break
			}
			for _, b := range page.Briefs {
				record, err := s.Get(ctx, b.ID)
				if err != nil {
					lost++
					continue
				}
				records = append(records, record)
			}
			if find.After = page.Next; find.After == (storage.Cursor{}) {
				break
			}
		}
	}
	return records, lost
}
