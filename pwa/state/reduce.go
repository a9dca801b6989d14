package state

import (
	"torchside/calc/words"
	"torchside/storage"
)

// Reduce returns what the app is after a message, and what is to be done. It never waits and never fails: what goes wrong
// becomes a message beside the field, or a standing notice.
func Reduce(a App, m Msg) (App, []Effect) { return a.Reduce(m) }

// Reduce is the method form of the package function.
func (a App) Reduce(m Msg) (App, []Effect) {
	if a.Unsafe != "" {
		return a, nil // nothing is stored or computed at such an address
	}
	for _, part := range []func(App, Msg) (App, []Effect, bool){reduceSetup, reduceFlame, reduceCutList, reduceTables, reduceWorksheet, reducePrefs, reduceForm, reduceRig, reduceStore, reduceTransfer, reduceClock, reduceTimer, reducePacer, reduceUpkeep, reduceCylinders, reduceWall, reduceLeak, reduceJournal, reduceSync, reduceOrders} {
		if b, effects, ok := part(a, m); ok {
			b, more := b.askWorked()
			b, later := b.syncEdited(a)
			return b, append(append(effects, more...), later...)
		}
	}
	return a, nil
}

// did marks a message as dealt with.
func did(a App, effects []Effect) (App, []Effect, bool) { return a, effects, true }

func reduceSetup(a App, m Msg) (App, []Effect, bool) {
	switch m := m.(type) {
	case SetupTyped:
		return did(a.setupTyped(m))
	case SetupChosen:
		return did(a.setupChosen(m))
	case ProvenanceOpened:
		if c := a.Setup.Card; c != nil {
			if _, ok := c.Provenance[m.Key]; ok { // an address may name one that this card has not
				a.Setup.OpenProvenance = m.Key
			}
		}
		return a, nil, true
	case ProvenanceClosed:
		a.Setup.OpenProvenance = ""
		return a, nil, true
	}
	return a, nil, false
}

func reducePrefs(a App, m Msg) (App, []Effect, bool) {
	switch m := m.(type) {
	case UnitsChosen:
		return did(a.chosen(prefUnits, textOf(m.System)))
	case UnitChosen:
		return did(a.unitChosen(m))
	case LanguageChosen:
		return a, []Effect{SetLanguage(m)}, true
	case ThemeChosen:
		a, effects := a.chosen(prefTheme, m.Theme)
		return a, append(effects, ShowTheme{Theme: a.Prefs.Theme}), true
	case RegionChosen:
		return did(a.chosen(prefRegion, m.Region))
	case RuleChosen:
		return did(a.chosen(prefRule, m.Rule))
	case CurrencyTyped:
		return did(a.currencyTyped(m.Text))
	case PrefTyped:
		return did(a.prefTyped(m))
	case NoticeAccepted:
		return did(a.noticeAccepted(m))
	case GuideWent:
		return did(a.guideWent(m))
	case GuideAsked:
		return did(a.guideAsked())
	case AboutToggled:
		a.Bench.About = !a.Bench.About
		return a, nil, true
	}
	return a, nil, false
}

func reduceForm(a App, m Msg) (App, []Effect, bool) {
	switch m := m.(type) {
	case PartAdded:
		return did(a.partAdded(m))
	case PartOpened:
		return did(a.partOpened(m.ID))
	case PartCopied:
		return did(a.partCopied(m.ID))
	case FormTyped:
		return did(a.formTyped(m.Key, m.Text))
	case FormChosen:
		return did(a.formTyped(m.Key, m.Value))
	case FormSaved:
		return did(a.saveForm(m))
	case FormCancelled:
		return did(a.cancelForm())
	case Resumed:
		return did(a.goneOn(Unfinished(m)))
	case FormLeft:
		return did(a.leaveForm())
	case Discarded:
		return did(a.discarded(Unfinished(m)))
	}
	return a, nil, false
}

func reduceRig(a App, m Msg) (App, []Effect, bool) {
	switch m := m.(type) {
	case PartUsed:
		return did(a.partUsed(m.ID))
	case PartRetired:
		return did(a.partRetired(m))
	case PartDeleted:
		return did(a.partDeleted(m.ID))
	case VersionChosen:
		return did(a.versionChosen(m))
	case SplitKept:
		return did(a.splitKept(m))
	case SampleAdded:
		return did(a.sampleAdded())
	case SampleRemoved:
		return did(a.sampleRemoved())
	case UndoRequested:
		return did(a.undone())
	case UndoDismissed:
		a.Undo = nil
		return a, nil, true
	}
	return a, nil, false
}

func reduceStore(a App, m Msg) (App, []Effect, bool) {
	switch m := m.(type) {
	case Loaded:
		return did(a.loaded(m))
	case DraftsLoaded:
		return a.draftsLoaded(m), nil, true
	case WriteDone:
		return did(a.written(m))
	case WriteFailed:
		return did(a.writeFailed(m))
	case StoreFailed:
		a.Ready = true
		return a.unreadNotice(m.Err).rebuilt(), nil, true
	case StoreEmptied:
		return a.storeEmptied(m.Lost), nil, true
	case RetryRequested:
		return did(a.retry())
	case HealthRead:
		a.Bench.Health = m.Health
		return a.countWaiting(m.Health), nil, true
	case HealthAsked:
		return a, []Effect{ReadHealth{}}, true
	case DraftFailed:
		return a.withNotice(Notice{Code: NoticeDraft, Level: LevelCaution, Action: ActionPutAway,
			Text: words.S("What you type is not kept until you save it: %s.", shorten(m.Err.Error()))}), nil, true
	case AddressUnsafe:
		a.Unsafe = m.Why
		return a, nil, true
	case WorkerRefused:
		return a.workerRefused(m.Why), nil, true
	case OtherWrote:
		return a, []Effect{Reload{}}, true
	}
	return a, nil, false
}

func reduceTransfer(a App, m Msg) (App, []Effect, bool) {
	switch m := m.(type) {
	case Failed:
		return a.panicked(m.What), nil, true
	case UpdateReady:
		return a.withNotice(Notice{Code: NoticeUpdate, Level: LevelNote, Action: ActionRestart,
			Text: "New version: restart when your hands are free. What you typed is kept."}), nil, true
	case RestartRequested:
		return a, []Effect{Restart{}}, true
	case NoticePutAway:
		return did(a.putAway(m.Code))
	case ExportRequested:
		a.Bench.Busy, a.Bench.Report = true, ""
		return a, []Effect{a.export()}, true
	case ExportDone:
		a.Bench.Busy, a.Bench.Report = false, exportReport(m)
		return did(a.exported())
	case LimitKnown:
		a.Bench.Limit = m.Bytes
		return a, nil, true
	case ImportProgress:
		a.Bench.Report = m.text()
		return a, nil, true
	case ImportDone:
		a.Bench.Busy, a.Bench.Report = false, importReport(m)
		return a, []Effect{Reload{}, SyncLater{Edited: true}}, true
	case TransferFailed:
		return did(a.transferFailed(m))
	}
	return reduceImport(a, m)
}

// unitChosen replaces one unit if it is one of ours.
func (a App) unitChosen(m UnitChosen) (App, []Effect) {
	unit, ok := unitBySymbol(m)
	if !ok {
		return a, nil
	}
	return a.chosen(prefUnits, textOf(a.Prefs.Units.With(unit)))
}

// workerRefused stops an app that has stored nothing yet: its address has to be mended first. One that has goes on, and says
// that it needs the network.
func (a App) workerRefused(why string) App {
	if a.read && len(a.records) == 0 && len(a.waiting) == 0 {
		a.Unsafe = words.S("This browser would not install the app: %s", shorten(why))
		return a
	}
	return a.withNotice(Notice{Code: NoticeWorker, Level: LevelCaution, Action: ActionPutAway,
		Text: words.S("This app cannot open without the network here: %s.", shorten(why))})
}

// loaded takes in everything the store holds.
func (a App) loaded(m Loaded) (App, []Effect) {
	a.records = make(map[storage.ID]storage.Record, len(m.Records))
	for _, r := range m.Records {
		if !isSheet(r.Kind) {
			a.records[r.ID] = r
		}
	}
	first := !a.read
	a.Ready, a.read = true, true
	a = a.withoutNotice(NoticeStoreUnread)
	if len(a.unsaved) == 0 {
		a = a.withoutNotice(NoticeStoreFailed).withoutNotice(NoticeStoreFull)
		if a.Saved.State == SaveFailed {
			a.Saved = SaveState{Count: a.Saved.Count}
		}
	}
	a = a.rebuilt()
	effects := []Effect{ShowTheme{Theme: a.Prefs.Theme}, ReadHealth{}} // an import or another window changes how many there are
	if first {
		effects = append(effects, DropOrphans{Keep: a.draftPhotos()})
	}
	a, more := a.sheetsChanged()
	return a, append(effects, more...)
}

// importReport tells what an import did; what is here is never overwritten.
func importReport(m ImportDone) string {
	text := words.S("Read in: %s; %s already here.", words.Count(m.Added, "new change"), words.Count(m.Held, "change"))
	if m.Added == 0 && m.Held > 0 {
		text += words.T(" The file holds nothing newer than what is here; what was deleted here since stays deleted.")
	}
	if m.Split > 0 {
		text += words.S(" %s now in two versions: open them under Rig or Journal and choose; both are kept.", words.Count(m.Split, "record"))
	}
	if len(m.Refused) > 0 {
		text += words.S(" %s of the file disagree with what is here under the same name: the ones here stay.", words.Count(len(m.Refused), "change"))
	}
	return text
}

// transferFailed says why, and what of an import is here all the same.
func (a App) transferFailed(m TransferFailed) (App, []Effect) {
	reason := fileReason(m.Err)
	a.Bench.Busy, a.Bench.Report = false, words.S("The %s did not happen: %s. Nothing here was changed.", m.What, reason)
	if m.Some.Added > 0 {
		a.Bench.Report = words.S("The %s stopped: %s. %s Reading the file in again goes on from there.", m.What, reason, importReport(m.Some))
		return a, []Effect{Reload{}}
	}
	return a, nil
}
