package pwa

import (
	"context"
	"crypto/rand"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/effects"
	"torchside/pwa/pwatest"
	"torchside/pwa/state"
	"torchside/storage"
	"torchside/storage/memory"
)

// noBrowser is a browser that keeps nothing.
type noBrowser struct{}

func (noBrowser) Drafts() map[string]state.Draft      { return nil }
func (noBrowser) KeepDraft(string, state.Draft) error { return nil }
func (noBrowser) ShowTheme(string)                    {}
func (noBrowser) ShowTop(string)                      {}
func (noBrowser) SetLanguage(string)                  {}
func (noBrowser) Download(effects.File) error         { return nil }
func (noBrowser) Restart()                            {}
func (noBrowser) Held() state.Held                    { return state.Held{} }
func (noBrowser) KeepHeld(state.Held)                 {}
func (noBrowser) Link() effects.Link                  { return effects.Link{} }
func (noBrowser) KeepLink(effects.Link) error         { return nil }
func (noBrowser) Announce()                           {}

// opened returns a shell whose store is read, at the given address.
func opened(t *testing.T, path string) *Shell {
	t.Helper()
	store := memory.New()
	s := &Shell{path: path, Ports: &effects.Ports{
		Open:    func(context.Context) (storage.Store, error) { return store, nil },
		Author:  func(s storage.Store) *storage.Author { return storage.NewAuthor(s, time.Now, rand.Reader) },
		Browser: noBrowser{},
	}}
	s.OnInit()
	pwatest.Do(t, func(ctx app.Context) { s.receive(ctx, state.Loaded{}) })
	return s
}

// say has the shell receive messages.
func say(t *testing.T, s *Shell, list ...state.Msg) {
	t.Helper()
	pwatest.Do(t, func(ctx app.Context) {
		for _, m := range list {
			s.receive(ctx, m)
		}
	})
}

func TestShell_on_the_server_shows_the_name_and_no_control(t *testing.T) {
	s := &Shell{}
	s.OnInit()
	html := app.HTMLString(s.Render())
	pwatest.Wants(t, html, "Torchside", `href="/emergency"`)
	pwatest.Lacks(t, strings.Replace(html, "<a ", "", 1), "<button", "<input", "<a ")
}

func TestShell_shows_the_safety_notice_until_it_is_accepted(t *testing.T) {
	s := opened(t, "/")
	pwatest.Wants(t, pwatest.HTML(t, s.Render()), `data-act="notice-accept"`, "It sees no rig", "maker comes first")
	say(t, s, state.NoticeAccepted{})
	html := pwatest.HTML(t, s.Render())
	pwatest.Lacks(t, html, `data-act="notice-accept"`)
	pwatest.Wants(t, html, `data-act="setup-thickness"`)
}

// Each place has one heading, which is a question, and leads to all five.
func TestShell_has_one_question_and_five_places_at_every_address(t *testing.T) {
	for _, r := range Routes {
		s := opened(t, r.Path)
		say(t, s, state.NoticeAccepted{})
		html := pwatest.HTML(t, s.Render())
		if n := strings.Count(html, "<h1"); n != 1 {
			t.Errorf("%s has %d main headings", r.Path, n)
		}
		heading := html[strings.Index(html, "<h1"):strings.Index(html, "</h1>")]
		if !strings.Contains(heading, "?") {
			t.Errorf("the heading of %s is no question: %s", r.Path, heading)
		}
		pwatest.Lacks(t, html, "style=", "http://", "https://", "No such page")
		if n := strings.Count(html, "aria-current="); n != 1 {
			t.Errorf("%s marks %d places of the bottom bar, want 1", r.Path, n)
		}
		for _, to := range Routes {
			if to.Place == "" {
				continue // reached from a page
			}
			pwatest.Wants(t, html, `data-act="nav-`+to.Place+`"`, `href="`+to.Path+`"`)
		}
	}
}

func TestShell_leads_on_from_an_unknown_address(t *testing.T) {
	s := opened(t, "/no/such/<place>")
	say(t, s, state.NoticeAccepted{})
	html := pwatest.HTML(t, s.Render())
	pwatest.Wants(t, html, "No such page", "/no/such/&lt;place&gt;", `data-act="nav-rig"`)
}

func TestShell_at_an_unsafe_address_shows_how_to_reach_it_safely(t *testing.T) {
	s := opened(t, "/")
	say(t, s, state.AddressUnsafe{Why: "This address has no trusted HTTPS."})
	html := pwatest.HTML(t, s.Render())
	pwatest.Wants(t, html, "no trusted HTTPS", "localhost:8080", "--tls-local")
	pwatest.Lacks(t, html, "<input", `data-act="nav-rig"`)
}

// A fault in a message becomes a notice; the state before it stays and the next message works.
func TestShell_survives_a_fault_of_its_own(t *testing.T) {
	s := opened(t, "/rig")
	say(t, s, state.NoticeAccepted{}, state.PartAdded{Kind: state.KindTip}, state.FormTyped{Key: "name", Text: "kept"})
	ports := *s.Ports
	ports.Browser = faultyBrowser{}
	s.runner = effects.NewRunner(ports, func(state.Msg) {})
	say(t, s, state.ThemeChosen{Theme: state.ThemeLight})
	html := pwatest.HTML(t, s.Render())
	pwatest.Wants(t, html, "A fault in this app was caught", `value="kept"`)
	say(t, s, state.FormTyped{Key: "name", Text: "and on"})
	pwatest.Wants(t, pwatest.HTML(t, s.Render()), `value="and on"`)
}

// faultyBrowser ends in a fault of its own when the theme is shown.
type faultyBrowser struct{ noBrowser }

func (faultyBrowser) ShowTheme(string) { panic("no document") }

func TestTapGuard_drops_the_second_of_two_equal_taps(t *testing.T) {
	start := time.Date(2031, 5, 1, 8, 0, 0, 0, time.UTC)
	for _, tt := range []struct {
		name          string
		first, second state.Msg
		after         time.Duration
		want          bool
	}{
		{"bounce", state.FormSaved{}, state.FormSaved{}, 399 * time.Millisecond, false},
		{"second thought", state.FormSaved{}, state.FormSaved{}, 400 * time.Millisecond, true},
		{"another part", state.PartOpened{ID: "a"}, state.PartOpened{ID: "b"}, time.Millisecond, true},
		{"same part", state.PartDeleted{ID: "a"}, state.PartDeleted{ID: "a"}, time.Millisecond, false},
		{"typing", state.FormTyped{Key: "a", Text: "1"}, state.FormTyped{Key: "a", Text: "1"}, time.Millisecond, true},
		{"answers", state.OtherWrote{}, state.OtherWrote{}, time.Millisecond, true},
	} {
		var g tapGuard
		if !g.allow(tt.first, start) {
			t.Errorf("%s: the first was dropped", tt.name)
		}
		if got := g.allow(tt.second, start.Add(tt.after)); got != tt.want {
			t.Errorf("%s: the second counts: %v, want %v", tt.name, got, tt.want)
		}
	}
}

func TestLinked_addresses_open_forms_once_the_records_are_read(t *testing.T) {
	for _, tt := range []struct {
		address string
		want    state.Msg
	}{
		{"/rig", nil},
		{"/rig?edit=r1", state.PartOpened{ID: "r1"}},
		{"/rig?add=hose&line=fuel", state.PartAdded{Kind: state.KindHose, Line: "fuel"}},
		{"/rig?add=chart_row&tip=t1", state.PartAdded{Kind: state.KindChartRow, TipID: "t1"}},
		{"/?source=homescreen", nil},
	} {
		u, err := url.Parse(tt.address)
		if err != nil {
			t.Fatal(err)
		}
		if got := linked(u); got != tt.want {
			t.Errorf("%s asks for %#v, want %#v", tt.address, got, tt.want)
		}
	}
	s := opened(t, "/rig")
	s.link = state.PartAdded{Kind: state.KindHose, Line: "fuel"}
	say(t, s, state.NoticeAccepted{})
	pwatest.Wants(t, pwatest.HTML(t, s.Render()), `data-act="rig-length"`)
}
