package stockdialog

import (
	"stowright/app"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/session"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/measure"
)

// Width of the questions about counts, points at normal size: their buttons stand in a row.
const countWidth = 680

// AskBlind asks one hand after the other how many of a heap there are. The question covers
// the window, whose figures the next hand must not see, until two hands agree.
func AskBlind(s *session.Session, host app.Asker, heap session.Heap) { askBlind(s, host, heap, nil) }

// AskLineBlind asks another hand how many of a line that was checked there are: what was
// found is the first count.
func AskLineBlind(s *session.Session, host app.Asker, heap session.Heap, line store.Line) {
	askBlind(s, host, heap, &line)
}

func askBlind(s *session.Session, host app.Asker, heap session.Heap, line *store.Line) {
	hand, number := look.NewEntry("a name"), look.NewAmountEntry(wording.Units(heap.Amount.Unit))
	words, problem := look.NewText(""), look.NewNotice(notice.Notice{Tone: notice.Stop})
	problem.Hide()
	var d *look.Dialog
	var m *Blind
	counts := 0
	m = NewBlind(s, heap, func(state BlindState) {
		if state.Done != "" {
			d.Close()
			host.Say(Done(state.Done))
			return
		}
		words.SetText(state.Words)
		problem.SetNotice(notice.Notice{Tone: notice.Stop, Text: state.Problem})
		problem.Hidden = state.Problem == ""
		if state.Counts != counts { // the next hand begins with empty fields
			counts = state.Counts
			hand.SetText("")
			number.SetText("")
			look.FocusOn(hand)
		}
		d.Refresh()
	})
	m.line = line
	count := func() { m.Count(hand.Text, number.Text) }
	hand.OnSubmitted = func(string) { look.FocusOn(number) }
	number.OnSubmitted = func(string) { count() }
	if line == nil { // else it is another hand
		hand.SetText(s.Shop.Hand())
		hand.SelectAll()
	}
	buttons := []*look.KeyButton{look.NewKeyButton("Leave it", "Esc", func() { d.Close() }), look.NewPrimary("Counted", "Enter", count)}
	if CanWeigh(heap.Amount.Unit) {
		weigh := look.NewKeyButton("Weigh instead", WeighKey, func() {
			AskWeighing(s, host, heap.Item, measure.Quantity{}, func(w measure.Weighing, done func(error)) {
				m.Weighed(hand.Text, w)
				done(nil)
			})
		})
		buttons = append([]*look.KeyButton{weigh}, buttons...)
	}
	d = look.NewDialog("Count "+heap.Item+" by several hands", look.Rows(12, look.NewQuiet(session.PlaceWords(heap.Path)), words,
		look.NewField("Who counts", hand, ""), look.NewField("How many are there?", number, ""), problem), buttons...)
	d.SetWidth(countWidth)
	d.Cover()
	host.Ask(d, hand)
	m.Load()
}
