package pages

import (
	"context"
	"crypto/rand"
	"html"
	"strings"
	"testing"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/setup"
	"torchside/calc/units"
	"torchside/pwa/action"
	"torchside/pwa/state"
	"torchside/storage"
	"torchside/storage/memory"
)

// asked is an app to which messages were sent, with a store in memory that answers at once.
type asked struct {
	t      *testing.T
	app    state.App
	store  storage.Store
	author *storage.Author
}

func ask(t *testing.T, msgs ...state.Msg) *asked {
	t.Helper()
	now := time.Date(2031, 5, 1, 8, 0, 0, 0, time.UTC)
	a := &asked{t: t, app: state.New(), store: memory.New()}
	a.author = storage.NewAuthor(a.store, func() time.Time { now = now.Add(time.Second); return now }, rand.Reader)
	a.run([]state.Effect{state.Reload{}})
	a.post(msgs...)
	return a
}

func (a *asked) post(msgs ...state.Msg) {
	for _, m := range msgs {
		next, effects := state.Reduce(a.app, m)
		a.app = next
		a.run(effects)
	}
}

func (a *asked) run(effects []state.Effect) {
	a.t.Helper()
	for _, e := range effects {
		switch e := e.(type) {
		case state.Write:
			records, err := a.author.Write(context.Background(), e.Drafts...)
			if err != nil {
				a.t.Fatal(err)
			}
			a.post(state.WriteDone{Token: e.Token, Records: records})
		case state.Reload:
			records, err := a.store.List(context.Background(), storage.Query{})
			if err != nil {
				a.t.Fatal(err)
			}
			a.post(state.Loaded{Records: records})
		}
	}
}

func (a *asked) page() string { return app.HTMLString((&Setup{App: a.app}).Render()) }

func wants(t *testing.T, page string, texts ...string) {
	t.Helper()
	for _, w := range texts {
		if !strings.Contains(page, w) {
			t.Errorf("the page lacks %q", w)
		}
	}
}

func lacks(t *testing.T, page string, texts ...string) {
	t.Helper()
	for _, w := range texts {
		if strings.Contains(page, w) {
			t.Errorf("the page holds %q", w)
		}
	}
}

var eighth = state.SetupTyped{Field: "thickness", Text: "1/8 in"}

func TestSetup_without_a_rig_says_what_is_missing_and_both_ways_to_get_it(t *testing.T) {
	page := ask(t, eighth).page()
	wants(t, page, "What are you doing?", `data-val="setup-missing"`, `data-act="setup-to-rig"`, `href="/rig"`, `data-act="setup-sample"`, `data-act="setup-thickness"`)
	wants(t, page, `data-act="setup-need-cylinder"`, "A fuel cylinder. ", `data-act="setup-need-torch"`, `data-act="setup-need-tip"`)
	lacks(t, page, "data-refusal", `class="settings"`)
}

func TestSetup_answered_folds_the_question_and_shows_the_card(t *testing.T) {
	for name, system := range map[string]units.System{"psi": units.US(), "bar": units.Metric()} {
		page := ask(t, state.SampleAdded{}, state.UnitsChosen{System: system}, eighth).page()
		wants(t, page, `data-act="setup-edit"`, "Weld, mild steel, 1/8 in", `data-val="oxygen.regulator_gauge_pa"`, `data-val="fuel.regulator_gauge_pa"`, `data-val="tip"`,
			`data-val="endurance_s"`, `data-val="shade"`, `data-val="hold_on_margin"`, "LIMIT", `data-notice="sample"`, " "+name)
		lacks(t, page, `data-act="setup-thickness"`, "data-refusal", "data-stale", "style=")
	}
}

// TestSetup_shows_cautions_before_the_numbers_they_concern reads the page as it is read: from the top.
func TestSetup_shows_cautions_before_the_numbers_they_concern(t *testing.T) {
	a := ask(t, state.SampleAdded{}, eighth)
	page := a.page()
	if len(a.app.Setup.Card.Warnings) == 0 {
		t.Fatal("the card has no warnings: nothing is tested")
	}
	for _, w := range a.app.Setup.Card.Warnings {
		at := strings.Index(page, `data-warning="`+w.Code+`"`)
		if at < 0 {
			t.Errorf("the warning %s is lost", w.Code)
			continue
		}
		if w.Level == setup.Note {
			continue // a plain note may follow its number
		}
		concerns := w.Concerns
		if concerns == "" {
			concerns = "tip" // the first number of a card
		}
		if n := strings.Index(page, `data-val="`+concerns+`"`); n >= 0 && n < at {
			t.Errorf("the warning %s stands after %s", w.Code, concerns)
		}
	}
}

// TestSetup_keeps_the_last_good_card_beside_bad_input: the typed text stays, the message says why, and the card says that it
// is for the earlier input.
func TestSetup_keeps_the_last_good_card_beside_bad_input(t *testing.T) {
	for _, typed := range []string{"0", "-3", "abc", "1/0", "4 km", "16 kg"} {
		t.Run(typed, func(t *testing.T) {
			page := ask(t, state.SampleAdded{}, eighth, state.SetupTyped{Field: "thickness", Text: typed}).page()
			wants(t, page, `value="`+typed+`"`, "field-bad", "data-stale", `data-val="oxygen.regulator_gauge_pa"`)
			lacks(t, page, `data-act="setup-edit"`)
		})
	}
}

func TestSetup_shows_a_refusal_before_the_earlier_card(t *testing.T) {
	page := ask(t, state.SampleAdded{}, eighth, state.SetupChosen{Field: "metal", Value: "galvanised_steel"}).page()
	wants(t, page, `data-refusal="metal_not_welded"`, "Ways out", "data-stale", `data-act="setup-why"`)
	if strings.Index(page, "data-refusal") > strings.Index(page, `data-val="tip"`) {
		t.Error("the refusal stands after the earlier card")
	}
}

func TestSetup_names_the_thickness_in_the_folded_question(t *testing.T) {
	for typed, want := range map[string]string{"3 mm": "Weld, mild steel, 3 mm, butt", "1/8 in": "Weld, mild steel, 1/8 in = 3.175 mm, butt"} {
		wants(t, ask(t, state.SampleAdded{}, state.SetupTyped{Field: "thickness", Text: typed}).page(), want)
	}
}

func TestSetup_asks_for_a_joint_only_where_there_is_one(t *testing.T) {
	wants(t, ask(t, state.SetupChosen{Field: "work", Value: "braze"}).page(), `data-act="setup-joint-lap"`)
	lacks(t, ask(t, state.SetupChosen{Field: "work", Value: "heat"}).page(), "setup-joint")
}

func TestSetup_opens_the_sheet_that_tells_where_a_number_comes_from(t *testing.T) {
	a := ask(t, state.SampleAdded{}, eighth)
	for key := range a.app.Setup.Card.Provenance {
		a.post(state.ProvenanceOpened{Key: key})
		wants(t, a.page(), "<dialog", "sheet-title", html.EscapeString(a.app.Setup.Card.Provenance[key].Source))
	}
	a.post(state.ProvenanceClosed{})
	lacks(t, a.page(), "<dialog")
}

// TestSetup_keeps_the_form_open_while_somebody_types: a card appears with the first digit, and the field must not vanish then.
func TestSetup_keeps_the_form_open_while_somebody_types(t *testing.T) {
	ctx, got := listening(t)
	a := ask(t, state.SampleAdded{})
	p := &Setup{App: a.app}
	p.onThickness(ctx, "3")
	a.post(state.SetupTyped{Field: "thickness", Text: "3"})
	p.App = a.app
	page := app.HTMLString(p.Render())
	wants(t, page, `data-act="setup-thickness"`, `data-act="setup-done"`, `data-val="tip"`)
	p.onDone(ctx)
	wants(t, app.HTMLString(p.Render()), `data-act="setup-edit"`)
	p.onEdit(ctx)
	wants(t, app.HTMLString(p.Render()), `data-act="setup-thickness"`)
	if m := got(); len(m) != 1 || m[0] != (state.SetupTyped{Field: "thickness", Text: "3"}) {
		t.Errorf("posted %v", m)
	}
}

func TestSetup_posts_what_is_chosen(t *testing.T) {
	ctx, got := listening(t)
	p := &Setup{App: ask(t).app}
	p.onWork(ctx, "braze")
	p.onMetal(ctx, "copper")
	p.onJoint(ctx, "lap")
	p.onTemperature(ctx, "5 °C")
	p.onAltitude(ctx, "300 m")
	p.onRatio(ctx, "1.2")
	p.onOpen(ctx, "ratio")
	p.onClose(ctx)
	p.onSample(ctx)
	p.onSampleRemoved(ctx)
	want := map[state.Msg]bool{
		state.SetupChosen{Field: "work", Value: "braze"}: true, state.SetupChosen{Field: "metal", Value: "copper"}: true,
		state.SetupChosen{Field: "joint", Value: "lap"}: true, state.SetupTyped{Field: "temperature", Text: "5 °C"}: true,
		state.SetupTyped{Field: "altitude", Text: "300 m"}: true, state.SetupTyped{Field: "ratio", Text: "1.2"}: true,
		state.ProvenanceOpened{Key: "ratio"}: true, state.ProvenanceClosed{}: true, state.SampleAdded{}: true, state.SampleRemoved{}: true,
	}
	m := got()
	for _, one := range m {
		if !want[one] {
			t.Errorf("posted %+v", one)
		}
		delete(want, one)
	}
	if len(want) > 0 {
		t.Errorf("not posted: %v", want)
	}
}

// listener receives messages as the root component does.
type listener struct {
	app.Compo
	ctx app.Context
	got []state.Msg
}

func (l *listener) OnPreRender(ctx app.Context) {
	l.ctx = ctx
	action.Handle(ctx, func(_ app.Context, m state.Msg) { l.got = append(l.got, m) })
}

func (l *listener) Render() app.UI { return app.Div() }

// listening returns a context for handlers and the messages they have posted.
func listening(t *testing.T) (app.Context, func() []state.Msg) {
	t.Helper()
	l := &listener{}
	e := app.NewTestEngine()
	if err := e.Load(l); err != nil {
		t.Fatal(err)
	}
	e.ConsumeAll()
	return l.ctx, func() []state.Msg { e.ConsumeAll(); return l.got }
}
