package handle

import (
	"stowright/app/card"
	"stowright/app/look"
	"stowright/app/session"
	"stowright/store"
)

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
	put := func() { putting.Put(what.Text, number.Text) }
	what.OnSubmitted = func(string) { look.FocusOn(number) }
	number.OnSubmitted = func(string) { put() }
	dialog = look.NewDialog("Put into "+place.Name,
		look.Rows(12, look.NewQuiet("For what has no packing list. What comes in a crate is checked off on Unpack and stowed from there."),
			look.NewField("What is it?", what, "its part number, as on the bag or the plans"), amount),
		look.NewKeyButton("Cancel", "Esc", func() { dialog.Close() }), look.NewPrimary("Put in", "Enter", put))
	host.Ask(dialog, what)
}
