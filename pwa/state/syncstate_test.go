package state

import "testing"

// "On the server" is only said when the last run went well and took everything along, photos too.
func TestSync_is_on_the_server_only_when_the_last_run_took_everything(t *testing.T) {
	good := Sync{Linked: Linked{Shop: "yard", ID: "d", Synced: 1}}
	if !good.Linked.Paired() {
		t.Fatal("the device of this test is in no shop")
	}
	if got := good.State(); got != SyncServer {
		t.Fatalf("after a good run: %s", got)
	}
	failed, photos := good, good
	failed.Reason = "no answer"
	photos.Progress.AllPhotos = 1
	for name, s := range map[string]Sync{"failed run": failed, "photo left here": photos} {
		if got := s.State(); got != SyncWaiting {
			t.Errorf("%s: %s, want %s", name, got, SyncWaiting)
		}
	}
}
