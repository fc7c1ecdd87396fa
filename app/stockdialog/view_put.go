package stockdialog

import (
	"cmp"
	"errors"

	"stowright/app"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/session"
	"stowright/app/wording"
	"stowright/store"
)

// whatHint says what to type, until what was typed is known.
const whatHint = "its part number, as on the bag or the plans"

// putQuestion is the dialog while it is open.
type putQuestion struct {
	host    app.Asker
	putting *Putting
	dialog  *look.Dialog
	what    *look.Entry
	thing   *look.Field // with what
	number  *look.Entry
	amount  *look.Field // with number
}

// AskPut asks what goes into a place, and how many.
func AskPut(s *session.Session, host app.Asker, place store.Place) {
	q := &putQuestion{host: host, what: look.NewEntry("AN3-5A"), number: look.NewAmountEntry("")}
	q.putting = NewPutting(s, place, q.done)
	q.thing, q.amount = look.NewField("What is it?", q.what, whatHint), look.NewField("How many?", q.number, "")
	q.what.OnChanged = q.named
	q.what.OnSubmitted = func(string) { q.next() }
	q.number.OnSubmitted = func(string) { q.put() }
	q.dialog = look.NewDialog("Put into "+place.Name,
		look.Rows(12, look.NewQuiet("For what has no packing list. What comes in a crate is checked off on Unpack and stowed from there."), q.thing, q.amount),
		look.NewKeyButton("Cancel", "Esc", func() { q.dialog.Close() }), look.NewPrimary("Put in", "Enter", q.put))
	host.Ask(q.dialog, q.what)
}

// named says what was typed so far, where that is known.
func (q *putQuestion) named(text string) {
	q.thing.SetHint(cmp.Or(q.putting.What(text), whatHint))
	q.putting.InUnit(text, func(unit string) { q.number.SetUnit(unit) })
	q.dialog.Refresh()
}

// next goes on to how many, unless the number is doubted.
func (q *putQuestion) next() {
	if !q.doubted() {
		look.FocusOn(q.number)
	}
}

func (q *putQuestion) put() {
	if q.doubted() {
		look.FocusOn(q.what)
		return
	}
	q.putting.Put(q.what.Text, q.number.Text)
}

// doubted shows why the number is doubted, the first time.
func (q *putQuestion) doubted() bool {
	doubt := q.putting.Doubt(q.what.Text)
	if doubt == "" {
		return false
	}
	q.thing.SetProblem(doubt)
	q.dialog.Refresh()
	return true
}

// done closes the question and says what was done, or shows what is wrong in it.
func (q *putQuestion) done(said notice.Notice, err error) {
	if errors.Is(err, store.ErrLotsMeet) {
		q.dialog.Close()
		AskMeeting(q.host, err, q.putting.Meet)
		return
	}
	if err != nil {
		q.amount.SetProblem(wording.Error(err))
		return
	}
	q.dialog.Close()
	q.host.Say(said)
}
