package stockdialog

import (
	"stowright/app"
	"stowright/app/look"
	"stowright/app/session"
)

// BackKey sends back to the supplier what is asked about, wherever it is asked where it goes.
const BackKey = "F7"

// AskSendBack asks how much of a heap goes back to its supplier, to whom, and why.
func AskSendBack(s *session.Session, host app.Asker, heap session.Heap) {
	q := newQuestion(s, host, heap, "How many?")
	to, why := look.NewEntry("who sent the packing list"), look.NewEntry("wrong finish")
	if !heap.Amount.Estimate() {
		q.number.SetText(s.Typed(heap.Amount.Quantity))
	}
	send := func() { q.model.SendBack(q.number.Text, to.Text, why.Text) }
	q.number.OnSubmitted = func(string) { look.FocusOn(to) }
	to.OnSubmitted = func(string) { look.FocusOn(why) }
	why.OnSubmitted = func(string) { send() }
	q.dialog = look.NewDialog("Send "+heap.Item+" back",
		look.Rows(12, q.amount, look.NewField("To whom?", to, ""), look.NewField("Why?", why, "The reason is kept, and its lot says how much went so. What comes in its place is owed by the answer to a claim.")),
		q.cancel(), look.NewPrimary("It went back", "Enter", send))
	host.Ask(q.dialog, q.number)
	q.number.SelectAll()
}
