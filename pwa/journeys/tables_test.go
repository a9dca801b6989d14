//go:build browser

package journeys

import "testing"

// A search over all tables, a table and its colours; the way back leads to the list and then to Bench, which stays marked. Offline, a
// link to a search and one to a table open where they point.
func TestTablesAreSearchedOffline(t *testing.T) {
	_, _, page := fresh(t)
	goTo(page, "bench")
	page.Tap("to-tables")
	page.Wants("table-limits", "Limits and rules")
	page.Wait("Bench stays marked", `document.querySelector("[data-act=nav-bench]")?.getAttribute("aria-current") === "location"`)
	sound(t, page, "tables-list")
	page.Type("tables-find", "fire watch")
	page.Wants("table-entries", "Sources differ", "60 min", "30 min", "NFPA 51B", "29 CFR 1910.252")
	page.Wants("tables-find", "fire watch")
	sound(t, page, "tables-found")
	page.Paste("tables-find", "xyzzy")
	page.Wants("tables-count", "No table holds “xyzzy”")
	page.Back()
	page.Wants("table-glow")
	page.Tap("table-glow")
	page.Wants("table-title", "Glow colours")
	page.Wants("table-entries", "815 to 870 °C", "second-hand text", "daylight", "dim shop")
	sound(t, page, "tables-glow")
	page.Back()
	page.Wants("table-temper")
	page.Tap("table-temper")
	page.Wants("table-entries", "From memory, not checked")
	sound(t, page, "tables-temper")
	page.Tap("tables-all")
	page.Wants("to-bench", "Bench")
	page.Tap("to-bench")
	page.Wait("back at Bench", `location.pathname === "/bench"`)

	page.Offline(true)
	page.Go("/bench/tables?find=aluminum+melting")
	page.Wants("table-entries", "Aluminium: melting point", "660.3 °C", "CRC Handbook")
	page.Go("/bench/tables?table=fillers")
	page.Wants("table-title", "Fillers")
	page.Wants("table-entries", "BAg-7", "cadmium")
	page.Reload()
	page.Wants("table-title", "Fillers")
	page.Go("/bench/tables?table=nonsense")
	page.WantsText("There is no such table.")
}
