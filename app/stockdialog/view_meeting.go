package stockdialog

import (
	"stowright/app"
	"stowright/app/look"
	"stowright/app/wording"
	"stowright/store"
)

// The keys of the two ways in which lots meet.
const (
	PourKey  = "P"
	ApartKey = "A"
)

// AskMeeting asks what becomes of two lots of an item that would lie in one place: why is
// the refusal that says which, and answer is called with what is chosen.
func AskMeeting(host app.Asker, why error, answer func(store.Meeting)) {
	var d *look.Dialog
	choose := func(m store.Meeting) func() {
		return func() {
			d.Close()
			answer(m)
		}
	}
	d = look.NewDialog("Two lots in one place", look.Rows(12,
		look.NewText(wording.Error(why)),
		look.NewQuiet("Once they are poured together no piece says any more which lot it is of."),
	),
		look.NewKeyButton("Cancel", "Esc", func() { d.Close() }),
		look.NewKeyButton("Keep apart", ApartKey, choose(store.LotsApart)),
		look.NewKeyButton("Pour together", PourKey, choose(store.PourLots)))
	host.Ask(d, nil)
}
