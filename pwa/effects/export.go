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

// export hands over everything, beside the queue. When the store cannot be read, the file is made of what is known here.
func (r *Runner) export(ctx context.Context, e state.Export) {
	records, refused := r.settle(e)
	s, err := r.open(ctx)
	r.beside(ctx, func(ctx context.Context) {
		var f File
		if err == nil {
			f, err = r.ports.Files.Export(ctx, s, refused)
			fault := err
			r.queue(func(context.Context) { r.dropped(fault) })
		}
		rescued := err != nil
		if rescued {
			f, err = r.rescue(ctx, s, records, append(refused, e.Typed...))
		}
		if err == nil {
			err = r.ports.Browser.Download(f)
		}
		if err != nil {
			r.post(state.TransferFailed{What: "export", Err: err})
			return
		}
		r.queue(func(context.Context) { r.filed() })
		r.post(state.ExportDone{Name: f.Name, Records: f.Records, Skipped: f.Skipped, Rescued: rescued, Lost: f.Lost})
	})
}

// rescue makes the file of what is known here and of what can be read of the store, which is nil when it cannot be opened.
func (r *Runner) rescue(ctx context.Context, s storage.Store, known []storage.Record, drafts []storage.Draft) (File, error) {
	lost := 0
	if s != nil {
		var more []storage.Record
		more, lost = r.salvaged(ctx, s)
		known = append(known, more...)
	}
	f, err := r.ports.Files.Rescue(ctx, s, known, drafts)
	f.Lost = lost
	return f, err
}

// checked says what a file would bring, beside the queue.
func (r *Runner) checked(ctx context.Context, e state.CheckImport) {
	s, err := r.open(ctx)
	if err != nil {
		r.post(state.TransferFailed{What: "import", Err: err})
		return
	}
	r.beside(ctx, func(ctx context.Context) {
		plan, err := r.ports.Files.Check(ctx, s, e.File, r.progress())
		r.queue(func(context.Context) { r.dropped(err) })
		if err != nil {
			r.post(state.TransferFailed{What: "import", Err: err})
			return
		}
		r.post(state.ImportChecked{File: e.File, Plan: plan})
	})
}

// imported reads a file in, beside the queue.
func (r *Runner) imported(ctx context.Context, e state.Import) {
	s, err := r.open(ctx)
	if err != nil {
		r.post(state.TransferFailed{What: "import", Err: err})
		return
	}
	r.beside(ctx, func(ctx context.Context) {
		done, err := r.ports.Files.Import(ctx, s, e.File, r.progress())
		r.queue(func(context.Context) { r.dropped(err) })
		if err != nil {
			r.post(state.TransferFailed{What: "import", Err: err, Some: done})
			return
		}
		r.post(done)
		r.ports.Browser.Announce()
	})
}

// progress tells how far an import is, once for each hundredth of a step.
func (r *Runner) progress() func(step state.ImportStep, done, total int64) {
	last := state.ImportProgress{Percent: -1}
	return func(step state.ImportStep, done, total int64) {
		now := state.ImportProgress{Step: step, Percent: int(100 * done / max(total, 1))}
		if now != last {
			last = now
			r.post(now)
		}
	}
}
