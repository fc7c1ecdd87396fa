package handle

import (
	"cmp"

	"stowright/app/card"
	"stowright/app/look"
	"stowright/app/session"
	"stowright/store"
)

// whatHint says what to type, until what was typed is known.
const whatHint = "its part number, as on the bag or the plans"

// AskPut asks what goes into a place, and how many.
func AskPut(s *session.Session, host Host, place store.Place) {
	var dialog *look.Dialog
	what, number := look.NewEntry("AN3-5A"), look.NewEntry("")
	amount := look.NewField("How many?", number, "")
	putting := NewPutting(s, place, func(said card.Notice, err error) {
		if err != nil {
			amount.SetProblem(session.Sentence(err))
			return
		}
		dialog.Close()
		host.Say(said)
	})
	thing := look.NewField("What is it?", what, whatHint)
	doubted := func() bool {
		doubt := putting.Doubt(what.Text)
		if doubt != "" {
			thing.SetProblem(doubt)
			dialog.Refresh()
		}
		return doubt != ""
	}
	put := func() {
		if doubted() {
			look.FocusOn(what)
			return
		}
		putting.Put(what.Text, number.Text)
	}
	what.OnChanged = func(text string) {
		thing.SetHint(cmp.Or(putting.What(text), whatHint))
		dialog.Refresh()
	}
	what.OnSubmitted = func(string) {
		if !doubted() {
			look.FocusOn(number)
		}
	}
	number.OnSubmitted = func(string) { put() }
	dialog = look.NewDialog("Put into "+place.Name,
		look.Rows(12, look.NewQuiet("For what has no packing list. What comes in a crate is checked off on Unpack and stowed from there."),
			thing, amount),
		look.NewKeyButton("Cancel", "Esc", func() { dialog.Close() }), look.NewPrimary("Put in", "Enter", put))
	host.Ask(dialog, what)
}
