package widgets

import (
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/present"
)

// probe lends a context to handlers: go-app gives none outside its engine.
type probe struct {
	app.Compo
	ctx app.Context
}

func (p *probe) OnPreRender(ctx app.Context) { p.ctx = ctx }
func (p *probe) Render() app.UI              { return app.Div() }

func borrowed(t *testing.T) app.Context {
	t.Helper()
	p := &probe{}
	e := app.NewTestEngine()
	if err := e.Load(p); err != nil {
		t.Fatal(err)
	}
	e.ConsumeAll()
	return p.ctx
}

// event is an event without a browser; a zero Event would panic.
func event() app.Event { return app.Event{Value: app.Null()} }

func html(ui app.UI) string { return app.HTMLString(ui) }

func wants(t *testing.T, page string, texts ...string) {
	t.Helper()
	for _, w := range texts {
		if !strings.Contains(page, w) {
			t.Errorf("lacks %q in\n%s", w, page)
		}
	}
}

func lacks(t *testing.T, page string, texts ...string) {
	t.Helper()
	for _, w := range texts {
		if strings.Contains(page, w) {
			t.Errorf("holds %q", w)
		}
	}
}

func TestNumberField_keeps_the_raw_text_beside_its_error(t *testing.T) {
	page := html((&NumberField{ID: "th", Act: "setup-thickness", Label: "Thickness", Value: "1/0", Read: "nothing", Err: "the bottom is 0"}).Render())
	wants(t, page, `value="1/0"`, "the bottom is 0", "aria-invalid", `data-act="setup-thickness"`, "mark-stop")
	lacks(t, page, "Read as", `aria-invalid="false"`)
}

func TestNumberField_says_what_was_read_and_where_steps_lead(t *testing.T) {
	f := &NumberField{ID: "th", Act: "a", Label: "Thickness", Value: "1/8", Read: "1/8 in = 3.175 mm", Down: "3/32 in"}
	page := html(f.Render())
	wants(t, page, "Read as 1/8 in = 3.175 mm", `aria-invalid="false"`, `aria-describedby="th-read th-error"`)
	down := html(f.step("down", "−", f.Down).(*stepButton).Render())
	wants(t, down, "Thickness: step down to 3/32 in", `data-act="a-down"`)
	up := html(f.step("up", "+", f.Up).(*stepButton).Render())
	wants(t, up, "disabled", "no further step up")
}

func TestNumberField_puts_in_the_reading_that_is_tapped(t *testing.T) {
	got := ""
	f := &NumberField{ID: "th", Act: "a", Value: "5/8", Err: "a fraction needs its unit", Choices: []string{"5/8 in", "0.625 mm"}, OnInput: func(_ app.Context, text string) { got = text }}
	wants(t, html(f.Render()), "field-choices", `data-act="a-choice-1"`, "5/8 in", `data-act="a-choice-2"`, "0.625 mm")
	f.choices()[1].(*readingButton).onClick(borrowed(t), event())
	if got != "0.625 mm" {
		t.Errorf("put in %q", got)
	}
	lacks(t, html((&NumberField{ID: "th", Act: "a"}).Render()), "field-choices")
}

// TestRawText_never_takes_back_what_was_typed_since guards the field against values that come back late from the state.
func TestRawText_never_takes_back_what_was_typed_since(t *testing.T) {
	type step struct {
		what, text string // "typed" by the person, or "echo" or "new" from the state; "new" must be put into the input
	}
	for name, steps := range map[string][]step{
		"echo of each key":          {{"typed", "1"}, {"echo", "1"}, {"typed", "12"}, {"echo", "12"}},
		"late echo":                 {{"typed", "1"}, {"typed", "12"}, {"echo", "1"}, {"echo", "12"}},
		"echo skipped":              {{"typed", "1"}, {"typed", "12"}, {"echo", "12"}},
		"a new value":               {{"typed", "1"}, {"echo", "1"}, {"new", "2 mm"}},
		"back to the first value":   {{"typed", "2"}, {"echo", "2"}, {"new", "1/8"}},
		"cleared from outside":      {{"typed", "1"}, {"echo", "1"}, {"new", ""}},
		"typed and cleared by hand": {{"typed", "1"}, {"typed", ""}, {"echo", "1"}, {"echo", ""}},
		"drawn again for another field while a letter is on its way": {{"typed", "3"}, {"echo", "1/8"}, {"echo", "3"}, {"typed", "3/"}, {"echo", "3"}, {"echo", "3/"}},
		"drawn again": {{"echo", "1/8"}, {"typed", "3"}, {"echo", "3"}, {"echo", "3"}},
	} {
		t.Run(name, func(t *testing.T) {
			var r rawText
			r.mount("1/8")
			for i, s := range steps {
				if s.what == "typed" {
					r.typed(s.text)
				} else if got := r.arrived(s.text); got != (s.what == "new") {
					t.Errorf("step %d: %s %q is put into the input: %v", i, s.what, s.text, got)
				}
			}
		})
	}
}

func TestNumberField_reports_typing_and_steps(t *testing.T) {
	ctx := borrowed(t)
	var got []string
	f := &NumberField{ID: "x", Up: "2", OnInput: func(_ app.Context, s string) { got = append(got, s) }}
	f.report(ctx, "1,5")
	f.step("up", "+", f.Up).(*stepButton).onClick(ctx, event())
	f.step("down", "−", f.Down).(*stepButton).onClick(ctx, event())
	if strings.Join(got, "|") != "1,5|2" {
		t.Errorf("reported %q", got)
	}
}

func TestBigButton_ignores_a_second_tap_within_400_ms(t *testing.T) {
	var g pressGuard
	start := time.Date(2031, 5, 1, 8, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		after time.Duration
		want  bool
	}{{0, true}, {399 * time.Millisecond, false}, {400 * time.Millisecond, true}, {700 * time.Millisecond, false}, {900 * time.Millisecond, true}} {
		if got := g.allow(start.Add(c.after)); got != c.want {
			t.Errorf("tap after %v: %v, want %v", c.after, got, c.want)
		}
	}
}

func TestBigButton_counts_one_of_two_quick_taps_and_none_when_disabled(t *testing.T) {
	ctx := borrowed(t)
	n := 0
	b := &BigButton{Act: "save", OnPress: func(app.Context) { n++ }}
	b.onClick(ctx, event())
	b.onClick(ctx, event())
	(&BigButton{Disabled: true, OnPress: func(app.Context) { n += 10 }}).onClick(ctx, event())
	(&BigButton{}).onClick(ctx, event()) // no handler is no panic
	if n != 1 {
		t.Errorf("%d presses, want 1", n)
	}
}

func TestChoiceGroup_answers_with_the_row_s_own_value(t *testing.T) {
	ctx := borrowed(t)
	got := ""
	g := &ChoiceGroup{ID: "work", Act: "setup-work", Label: "Work", Selected: "weld", OnChoose: func(_ app.Context, v string) { got = v },
		Choices: []Choice{{Value: "weld", Label: "Weld"}, {Value: "braze", Label: "Braze"}}}
	page := html(g.Render())
	wants(t, page, "<fieldset", "<legend", `data-act="setup-work-weld"`, `data-act="setup-work-braze"`)
	row := g.choice(g.Choices[1]).(*radio)
	row.onChange(ctx, event())
	if got != "braze" || row.CompoID() != "work-braze" || row.Checked {
		t.Errorf("answered %q, row %+v", got, row)
	}
}

func TestSelectField_can_choose_an_empty_value(t *testing.T) {
	ctx := borrowed(t)
	got := "nothing"
	s := &SelectField{ID: "s", Choices: []Choice{{Value: "", Label: "Best"}, {Value: "2", Label: "2"}}, OnChoose: func(_ app.Context, v string) { got = v }}
	s.choose(ctx, 0)
	if got != "" {
		t.Errorf("chose %q", got)
	}
	s.choose(ctx, 7) // a list that has just become shorter
	s.choose(ctx, -1)
	if got != "" {
		t.Errorf("a row that is not there chose %q", got)
	}
}

func TestSelectField_puts_neighbours_of_a_group_under_its_name(t *testing.T) {
	s := &SelectField{ID: "s", Selected: "2025-12", Choices: []Choice{{Label: "Any"}, {Value: "2026-01", Label: "2026-01", Group: "2026"},
		{Value: "2025-12", Label: "<b>December", Group: "2025"}, {Value: "2025-11", Label: "2025-11", Group: "2025"}}}
	page := html(s.Render())
	wants(t, page, `<optgroup label="2026"><option value="2026-01">2026-01</option></optgroup>`,
		`<optgroup label="2025"><option value="2025-12" selected>&lt;b&gt;December</option><option value="2025-11">2025-11</option></optgroup>`)
	if n := strings.Count(page, "<option"); n != len(s.Choices) {
		t.Errorf("%d choices are shown, want %d: the browser answers by position", n, len(s.Choices))
	}
}

func TestNumberTile_puts_warnings_before_the_number(t *testing.T) {
	n := present.Number{Key: "fuel.regulator_gauge_pa", Label: "Regulator", Value: "5", Unit: "psi", Band: "4 to 6 psi", Kind: "handbook", Memory: true,
		Warnings: []present.Warning{{Code: "w", Level: "caution", Word: "Caution", Text: "Hot.", Source: "a rule"}}}
	page := html((&NumberTile{Number: n, Big: true}).Render())
	wants(t, page, `data-val="fuel.regulator_gauge_pa"`, `data-act="from-fuel.regulator_gauge_pa"`, "4 to 6 psi", "handbook, from memory", "a rule")
	if strings.Index(page, "Hot.") > strings.Index(page, "tile-value") {
		t.Error("the warning stands after the number")
	}
}

func TestNumberTile_asks_for_its_own_number(t *testing.T) {
	got := ""
	tile := &NumberTile{Number: present.Number{Key: "ratio"}, Opens: &SettingsCard{OnOpen: func(_ app.Context, key string) { got = key }}}
	tile.onClick(borrowed(t), event())
	if got != "ratio" {
		t.Errorf("opened %q", got)
	}
}

func TestWarningList_keeps_all_but_several_notes_in_full(t *testing.T) {
	page := html(app.Div().Body(WarningList([]present.Warning{
		{Code: "a", Level: "caution", Word: "Caution", Text: "First.", Source: "one"}, {Code: "b", Level: "caution", Word: "Caution", Text: "Second.", Source: "two"},
		{Code: "c", Level: "check", Word: "Check", Text: "Third.", Source: "three"}, {Code: "d", Level: "note", Word: "Note", Text: "Fourth.", Source: "four"}, {Code: "e", Level: "note", Word: "Note", Text: "Fifth.", Source: "five"},
	})))
	for _, text := range []string{"First.", "Second.", "Third."} {
		if head := page[:strings.Index(page, text)]; strings.Count(head, "<summary") == strings.Count(head, "</summary") {
			t.Errorf("%q folds away", text)
		}
	}
	alone := html(app.Div().Body(WarningList([]present.Warning{{Code: "d", Level: "note", Word: "Note", Text: "Alone.", Source: "four"}})))
	if strings.Contains(alone[:strings.Index(alone, "Alone.")], "</summary") {
		t.Error("a single note folds away")
	}
	wants(t, page, "2 notes", "Third.", "Fourth.", "Fifth.", "Source: one.", "Source: two.", "Source: three.", "Source: four.")
	for _, code := range []string{"a", "b", "c", "d"} {
		wants(t, page, `data-warning="`+code+`"`)
	}
	if html(app.Div().Body(WarningList(nil))) != "<div>\n</div>" && strings.Contains(html(app.Div().Body(WarningList(nil))), "warning") {
		t.Error("no warning is shown as one")
	}
}

func TestRefusalCard_says_read_allowed_why_and_ways_out(t *testing.T) {
	page := html(RefusalCard(present.Refusal{Code: "x", Head: "No settings for this", Field: "Fuel", Read: "propane", Allowed: "acetylene", Why: "too little heat",
		Source: "practice", WaysOut: []string{"Braze it"}}))
	wants(t, page, "propane", "acetylene", "too little heat", "practice", "Braze it", `role="alert"`, `data-refusal="x"`)
}

func TestSheet_closes_by_button_and_by_escape(t *testing.T) {
	ctx := borrowed(t)
	n := 0
	s := &Sheet{ID: "from", Title: "Regulator", OnClose: func(app.Context) { n++ }, Body: func() []app.UI { return []app.UI{app.P().Text("why")} }}
	wants(t, html(s.Render()), "<dialog", `aria-labelledby="from-title"`, `tabindex="-1"`, "why")
	s.onCancel(ctx, event())
	s.onPress(ctx)
	if n != 2 {
		t.Errorf("closed %d times, want 2", n)
	}
}

func TestProvenanceSheet_shows_all_it_is_told(t *testing.T) {
	s := ProvenanceSheet(present.Sheet{Title: "T", Value: "5 psi", Band: "From 4 to 6.", Kind: "computed", Source: "S", Memory: "M", Formula: "a + b",
		Inputs: []present.Line{{Name: "bore", Text: "1/4 in"}}, Reason: "R.", Others: []present.Line{{Name: "practice", Text: "6 psi"}}}, nil).(*Sheet)
	wants(t, html(s.Render()), "5 psi", "From 4 to 6. R.", "computed", "From memory", "a + b", "1/4 in", "6 psi")
}

func TestBottomBar_names_the_place_one_is_at(t *testing.T) {
	page := html(BottomBar([]Place{{Path: "/", Label: "Setup", Act: "nav-setup", Icon: "setup"}, {Path: "/rig", Label: "Rig", Act: "nav-rig", Icon: "rig"}}, "/rig", "/rig"))
	if strings.Count(page, `aria-current="page"`) != 1 {
		t.Error("not exactly one place is the current one")
	}
	wants(t, page, `href="/rig"`, `data-act="nav-setup"`, "<nav")
	below := html(BottomBar([]Place{{Path: "/", Label: "Setup", Act: "nav-setup", Icon: "setup"}, {Path: "/rig", Label: "Rig", Act: "nav-rig", Icon: "rig"}}, "/rig/hoses", "/rig"))
	if strings.Count(below, "aria-current") != 1 || strings.Contains(below, `aria-current="page"`) {
		t.Error("a page below a place does not mark that place, or marks it as the page itself")
	}
}

// TestWidgets_set_no_style: the content security policy drops inline styles, and scripts must never appear.
func TestWidgets_set_no_style(t *testing.T) {
	c := present.Card{}
	for _, ui := range []app.UI{
		(&SettingsCard{Card: c, Stale: "old"}).Render(), (&UnitPicker{Rows: []UnitRow{{Key: "p", Symbols: []string{"bar"}}}}).Render(),
		(&Notice{Code: "n", Mark: MarkStop, Word: "W", Action: "A"}).Render(),
		(&TextField{ID: "t"}).Render(), (&SelectField{ID: "s"}).Render(), BigLink("a", "b", "/c", Main), Page("Q", Card("T"), Actions(), Facts(Fact("a", "b", "c"))),
	} {
		lacks(t, html(ui), "style=", "<script", "onclick")
	}
}

// TestMarks_have_different_shapes: a state must be told apart without colour.
func TestMarks_have_different_shapes(t *testing.T) {
	seen := map[string]Mark{}
	paths := regexp.MustCompile(`(?s)<svg.*</svg>`)
	for _, m := range []Mark{MarkCaution, MarkCheck, MarkNote, MarkStop, MarkDone} {
		shape := paths.FindString(html(MarkShape(m)))
		if other, ok := seen[shape]; ok || shape == "" {
			t.Errorf("%s looks like %s", m, other)
		}
		seen[shape] = m
	}
}
