package pages

import (
	"errors"
	"fmt"
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// data is the state of what is stored, and the file with everything in it.
func (b *Bench) data() app.UI {
	return widgets.Card("Your data",
		b.health(),
		app.P().Class("quiet").Text(words.Text("Everything is kept on this device, at this address alone. A file is how it moves to another address or device, and how it survives a lost phone.")),
		&widgets.BigButton{Act: "export", Label: "Save everything as a file", Disabled: b.Bench.Busy, OnPress: post(state.ExportRequested{})},
		&fileButton{Act: "import", Label: "Read such a file in", Disabled: b.Bench.Busy, Limit: b.Bench.Limit},
		app.If(b.Bench.Preview != nil, b.preview),
		app.Div().Aria("live", "polite").Body(app.If(b.Bench.Report != "", func() app.UI {
			return app.P().DataSet("val", "transfer-report").Text(words.Text(b.Bench.Report))
		})),
	)
}

// preview says what a picked file would bring, and asks.
func (b *Bench) preview() app.UI {
	p := b.Bench.Preview
	return app.Div().Class("actions").DataSet("val", "import-preview").Role("status").Body(
		app.P().Class("word").Text(words.Text("The file is sound. It would bring:")),
		app.Ul().Class("steps").Body(app.Range(p.Lines).Slice(func(i int) app.UI { return app.Li().Text(words.Text(p.Lines[i])) })),
		app.If(!p.Empty, func() app.UI {
			return &widgets.BigButton{Act: "import-accept", Label: "Add this to what is here", Kind: widgets.Main, Disabled: b.Bench.Busy, OnPress: post(state.ImportAccepted{})}
		}),
		&widgets.BigButton{Act: "import-leave", Label: "Put the file away", OnPress: post(state.ImportLeft{})})
}

func (b *Bench) health() app.UI {
	h := b.Bench.Health
	if !h.Known {
		return app.P().DataSet("val", "storage-health").Text(words.Text("The browser has not yet said how it keeps them."))
	}
	promise := "No promise: this browser may throw it away when space runs short. Put the app on the home screen, and save a file now and then."
	if h.Persistent {
		promise = "Promised: the browser will not throw it away by itself."
	}
	facts := []app.UI{widgets.Fact("Records", strconv.Itoa(h.Records), "storage-records"), widgets.Fact("Kept for good", promise, "storage-persistent")}
	if h.Quota > 0 {
		facts = append(facts, widgets.Fact("Room", words.S("%s of %s used", byteSize(h.Bytes), byteSize(h.Quota)), "storage-room"))
	}
	return app.Div().DataSet("val", "storage-health").Body(widgets.Facts(facts...))
}

// byteSize writes a size in the unit that keeps it short.
func byteSize(n int64) string {
	if n >= 1e9 {
		return words.S("%s GB", words.Number(strconv.FormatFloat(float64(n)/1e9, 'f', 1, 64)))
	}
	return words.S("%s MB", words.Number(strconv.FormatFloat(float64(n)/1e6, 'f', 1, 64)))
}

// fileButton lets a person pick one file and sends its content as an import.
type fileButton struct {
	app.Compo

	Act, Label string
	Disabled   bool
	Limit      int64 // bytes of the largest file that is read; 0 for none
}

// Render shows the browser's own file input under our label.
func (f *fileButton) Render() app.UI {
	return app.Label().Class("big", "big-plain", "file-button").Body(
		app.Span().Class("big-label").Text(words.Text(f.Label)),
		app.Input().Type("file").Class("visually-hidden").DataSet("act", f.Act).Attr("accept", ".zip,application/zip").
			Disabled(f.Disabled).OnChange(f.onChange))
}

// onChange hands the file on, unless it is too large, and clears the input, so that the same file can be picked again.
func (f *fileButton) onChange(ctx app.Context, _ app.Event) {
	input := ctx.JSSrc()
	file := input.Get("files").Index(0)
	if !file.Truthy() {
		return
	}
	picked := &pickedFile{file: file, size: int64(file.Get("size").Float())}
	input.Set("value", "")
	if err := tooLarge(picked.size, f.Limit); err != nil {
		action.Post(ctx, state.TransferFailed{What: "import", Err: err})
		return
	}
	action.Post(ctx, state.ImportRequested{File: picked})
}

// tooLarge says why a file of this size is not read at all; nil when it may be.
func tooLarge(size, limit int64) error {
	if limit <= 0 || size <= limit {
		return nil
	}
	return fmt.Errorf(words.T("the file has %s; files of this app have at most %s"), byteSize(size), byteSize(limit))
}

// notRead is what the browser said when it would not read a file.
func notRead(args []app.Value) error {
	if len(args) == 0 || !args[0].Truthy() {
		return errors.New("the browser could not read the file")
	}
	return errors.New(words.S("the browser could not read the file: %s", args[0].Call("toString").String()))
}
