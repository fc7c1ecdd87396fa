package stockdialog

import (
	"errors"

	"stowright/app"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store"
)

// question is a dialog about a heap while it is open.
type question struct {
	host   app.Asker
	model  *Model
	dialog *look.Dialog
	amount *look.Field
	number *look.Entry
}

// newQuestion prepares a question whose first field is an amount.
func newQuestion(s *session.Session, host app.Asker, heap session.Heap, label string) *question {
	q := &question{host: host}
	q.model = NewModel(s, heap, q.done)
	q.number = look.NewAmountEntry(q.model.Hint())
	q.amount = look.NewField(label, q.number, q.model.Hint())
	return q
}

// done closes the question and says what was done, or shows what is wrong in it.
func (q *question) done(words string, err error) {
	if errors.Is(err, store.ErrLotsMeet) {
		q.dialog.Close()
		AskMeeting(q.host, err, q.model.Meet)
		return
	}
	if err != nil {
		q.amount.SetProblem(wording.Error(err))
		return
	}
	q.dialog.Close()
	q.host.Say(Done(words))
}

func (q *question) cancel() *look.KeyButton {
	return look.NewKeyButton("Cancel", "Esc", func() { q.dialog.Close() })
}

// Ask asks the question of an action; other ids and no heap ask nothing.
func Ask(s *session.Session, host app.Asker, heap *session.Heap, id string) {
	ask := map[string]func(*session.Session, app.Asker, session.Heap){CountID: AskCount, MoveID: AskMove, PullID: AskPull}[id]
	if heap != nil && ask != nil {
		ask(s, host, *heap)
	}
}

// AskCount asks how many were counted in a heap.
func AskCount(s *session.Session, host app.Asker, heap session.Heap) {
	q := newQuestion(s, host, heap, "How many are there?")
	q.number.OnSubmitted = func(string) { q.count() }
	where := look.NewQuiet(session.PlaceWords(heap.Path) + ". Type what you counted, not what should be there.")
	buttons := []*look.KeyButton{q.cancel(), look.NewPrimary("Counted", "Enter", q.count)}
	if CanWeigh(heap.Amount.Unit) {
		weigh := look.NewKeyButton("Weigh instead", WeighKey, func() { q.dialog.Close(); AskWeigh(s, host, heap) })
		buttons = append([]*look.KeyButton{weigh}, buttons...)
	}
	blind := look.NewKeyButton("By several hands", BlindKey, func() { q.dialog.Close(); AskBlind(s, host, heap) })
	buttons = append([]*look.KeyButton{blind}, buttons...)
	q.dialog = look.NewDialog("Count "+heap.Item, look.Rows(12, where, q.amount), buttons...)
	q.dialog.SetWidth(countWidth)
	host.Ask(q.dialog, q.number)
}

// count records what was counted, once it is asked again where that is far from what was there.
func (q *question) count() {
	if doubt := q.model.Doubt(q.number.Text); doubt != "" {
		q.amount.SetProblem(doubt)
		return
	}
	q.model.Count(q.number.Text)
}

// AskMove asks where a heap, or some of it, goes.
func AskMove(s *session.Session, host app.Asker, heap session.Heap) {
	q := newQuestion(s, host, heap, "How many? Leave empty for all "+heap.Amount.String())
	where := look.NewEntry("A-12, a shelf, or scan its label")
	where.TakesCodes = true
	list := newChoices("")
	move := func() { q.model.WhenOffered(func() { q.move(list) }) }
	where.OnChanged = func(typed string) { q.offer(list, typed) }
	where.OnSubmitted = func(string) { move() }
	where.OnDown = func() { look.FocusOn(list) }
	q.number.OnSubmitted = func(string) { look.FocusOn(where) }
	list.OnOpened = func(int, table.Row) { move() }
	back := look.NewKeyButton("Back to the supplier", BackKey, func() { q.dialog.Close(); AskSendBack(s, host, heap) })
	q.dialog = look.NewDialog("Move "+heap.Item+" out of "+heap.Path[len(heap.Path)-1].Name,
		look.Fill(12, look.NewField("Where to?", where, "type part of its name"), list, q.amount),
		back, q.cancel(), look.NewPrimary("Move", "Enter", move))
	host.Ask(q.dialog, where)
}

func (q *question) offer(list *look.RowList, typed string) {
	q.model.Offer(typed, func(choices []Choice, err error) {
		q.amount.SetProblem(wording.Error(err))
		show(list, choices)
		q.dialog.Refresh()
	})
}

func (q *question) move(list *look.RowList) {
	to, ok := list.Chosen()
	if !ok {
		q.amount.SetProblem("Type where it goes: a place of this shop answers to its name.")
		return
	}
	q.model.Move(q.number.Text, to.ID)
}

// AskPull asks how many of a heap are taken out, and for what.
func AskPull(s *session.Session, host app.Asker, heap session.Heap) {
	q := newQuestion(s, host, heap, "How many?")
	session.Do(s, q.model.SubAssemblies, q.askPull)
}

func (q *question) askPull(subs []Choice, err error) {
	if err != nil {
		q.host.Say(notice.Notice{Tone: notice.Stop, Text: wording.Error(err)})
		return
	}
	if len(subs) == 0 {
		q.host.Say(notice.Notice{Tone: notice.Warn, Lead: "Nothing to take it out for:", Text: "this shop has no sub-assemblies yet. Move it to another place instead."})
		return
	}
	list := newChoices("for")
	show(list, subs)
	pull := func() { q.pull(list) }
	q.number.OnSubmitted = func(string) { pull() }
	q.number.OnDown = func() { look.FocusOn(list) }
	list.OnOpened = func(int, table.Row) { pull() }
	heap := q.model.Heap()
	q.dialog = look.NewDialog("Take "+heap.Item+" out of "+heap.Path[len(heap.Path)-1].Name,
		look.Fill(12, q.amount, list), q.cancel(), look.NewPrimary("Take out", "Enter", pull))
	q.host.Ask(q.dialog, q.number)
}

func (q *question) pull(list *look.RowList) {
	sub, ok := list.Chosen()
	if !ok {
		q.amount.SetProblem("Choose what it is for.")
		return
	}
	q.model.Pull(q.number.Text, sub.ID)
}

// choiceRow is the height of something to choose, points at normal size.
const choiceRow = 44

func newChoices(title string) *look.RowList {
	list := look.NewRowList(table.Column{Title: title, Kind: table.Names, Width: 200}, table.Column{Kind: table.Words})
	list.SetRowHeight(choiceRow)
	return list
}

// show lists choices, the first one chosen.
func show(list *look.RowList, choices []Choice) {
	rows := make([]table.Row, 0, len(choices))
	for _, c := range choices {
		rows = append(rows, table.Row{ID: c.ID, Cells: []table.Cell{table.Name(c.Name, ""), table.T(c.Note)}})
	}
	list.SetRows(rows)
	if len(rows) > 0 {
		list.Mark(0)
	}
}
