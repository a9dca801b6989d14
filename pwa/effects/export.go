package effects

import (
	"context"
	"slices"

	"torchside/pwa/state"
	"torchside/storage"
)

// answer is what became of a write.
type answer struct {
	records []storage.Record
	err     error
}

// keptAnswers is how many of the last answers are remembered: far more than writes can be under way when an export is asked
// for.
const keptAnswers = 256

// remember keeps the answer to a write for an export that was asked for before it came.
func (r *Runner) remember(token int, records []storage.Record, err error) {
	r.answers[token] = answer{records, err}
	delete(r.answers, token-keptAnswers)
}

// settle tells of the writes that were under way when the export was asked for what is stored by now and what is not. One
// without an answer counts as not: twice in the file is better than not at all.
func (r *Runner) settle(e state.Export) (records []storage.Record, refused []storage.Draft) {
	records, refused = slices.Clone(e.Records), slices.Clone(e.Unsaved)
	for _, w := range e.Waiting {
		if a, ok := r.answers[w.Token]; ok && a.err == nil {
			records = append(records, a.records...)
		} else {
			refused = append(refused, w.Drafts...)
		}
	}
	return records, refused
}

// export hands over everything. When the store cannot be read, the file is made of what is known here.
func (r *Runner) export(ctx context.Context, e state.Export) {
	f, err := r.exportFile(ctx, e)
	if err == nil {
		err = r.ports.Browser.Download(f)
	}
	if err != nil {
		r.post(state.TransferFailed{What: "export", Err: err})
		return
	}
	r.filed()
	r.post(state.ExportDone{Name: f.Name, Records: f.Records, Skipped: f.Skipped})
}

func (r *Runner) exportFile(ctx context.Context, e state.Export) (File, error) {
	records, refused := r.settle(e)
	if s, err := r.open(ctx); err == nil {
		f, err := r.ports.Files.Export(ctx, s, refused)
		if err == nil {
			return f, nil
		}
		r.dropped(err)
	}
	return r.ports.Files.Rescue(records, refused)
}
