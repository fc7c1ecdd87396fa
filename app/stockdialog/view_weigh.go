package stockdialog

import (
	"slices"

	"stowright/app"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/operation"
	"stowright/app/session"
	"stowright/store/measure"
)

// WeighKey opens a count by weight wherever a count is asked for.
const WeighKey = "F7"

// CanWeigh reports whether pieces counted in this unit can be weighed instead.
func CanWeigh(u measure.Unit) bool { return u == measure.Each || u.IsWeight() }

// AskWeigh asks for the weights of a heap and records about how many there are.
func AskWeigh(s *session.Session, host app.Asker, heap session.Heap) {
	listed := measure.Quantity{}
	if heap.Amount.Unit.IsWeight() {
		listed = heap.Amount.Quantity
	}
	AskWeighing(s, host, heap.Item, listed, func(m measure.Weighing, done func(error)) {
		weigh := operation.Weigh{Heap: operation.Heap{Key: heap.StockKey}, Weighing: &m}
		operation.Start(s, nil, weigh, func(r operation.Result, err error) {
			done(err)
			if err == nil {
				host.Say(Done(r.Words()))
			}
		})
	})
}

// weighView is the question about a weighing.
type weighView struct {
	model   *Weighing
	dialog  *look.Dialog
	units   *look.Choices
	texts   map[measure.Reading]*look.Entry
	answer  *look.Amount
	notes   *look.Paragraph
	stop    *look.Notice
	filled  bool // what is remembered was filled in
	setting bool // the fields are being filled by the program
}

// inTurn are the figures in the order in which they are asked for.
var inTurn = []measure.Reading{measure.StepReading, measure.PiecesReading, measure.SampleReading, measure.TareReading, measure.GrossReading}

// AskWeighing asks for the weights of an item. Book does with the count what it is
// for, and tells whether it could; nil shows the count and changes nothing.
func AskWeighing(s *session.Session, host app.Asker, item string, listed measure.Quantity, book func(m measure.Weighing, done func(error))) {
	v := &weighView{
		units: look.NewChoices(0, WeighUnits()...), texts: map[measure.Reading]*look.Entry{},
		answer: look.NewAmount("", "", ""), notes: look.NewQuiet(""), stop: look.NewNotice(notice.Notice{Tone: notice.Stop}),
	}
	v.model = NewWeighing(s, item, listed, book, v.render)
	v.units.OnChosen = func(int) { v.typed() }
	shut := func() { v.dialog.Close() }
	buttons := []*look.KeyButton{look.NewPrimary("Close", "Esc", shut)}
	if book != nil {
		buttons = []*look.KeyButton{look.NewKeyButton("Cancel", "Esc", shut), look.NewPrimary("Count it", "Enter", func() { v.model.Book(shut) })}
	}
	body := look.Rows(10,
		look.Beside(weighStep, v.field(measure.StepReading, "The scale shows steps of", "0.1"), look.NewField("in", v.units, "")),
		look.Beside(weighStep, v.field(measure.PiecesReading, "Sample: counted pieces", "100"), v.field(measure.SampleReading, "The sample weighs, without container", "8.1")),
		look.Beside(weighStep, v.field(measure.TareReading, "Empty container", "0"), v.field(measure.GrossReading, "Container with all the pieces", "160.4")),
		v.stop, v.answer, v.notes)
	v.dialog = look.NewDialog("Weigh "+item, body, buttons...)
	v.dialog.SetWidth(weighWidth)
	host.Ask(v.dialog, v.texts[measure.StepReading])
	v.model.Load()
}

// Widths of the question, points at normal size.
const (
	weighWidth = 640
	weighStep  = 230
)

// field is one figure of the scale.
func (v *weighView) field(r measure.Reading, label, example string) *look.Field {
	e := look.NewEntry(example)
	e.OnChanged = func(string) { v.typed() }
	e.OnSubmitted = func(string) { v.enter(r) }
	v.texts[r] = e
	return look.NewField(label, e, "")
}

// enter goes on to the next figure that is not there yet, or counts.
func (v *weighView) enter(r measure.Reading) {
	if !v.next(slices.Index(inTurn, r) + 1) {
		v.model.Book(func() { v.dialog.Close() })
	}
}

// next gives the keyboard to the first empty field from there on, where there is one.
func (v *weighView) next(from int) bool {
	for _, r := range inTurn[from:] {
		if v.texts[r].Text == "" {
			look.FocusOn(v.texts[r])
			return true
		}
	}
	return false
}

// typed follows the form.
func (v *weighView) typed() {
	if v.setting {
		return
	}
	text := func(r measure.Reading) string { return v.texts[r].Text }
	v.model.Set(WeighForm{
		Unit: max(0, v.units.Chosen()), Step: text(measure.StepReading), Tare: text(measure.TareReading), Gross: text(measure.GrossReading),
		Pieces: text(measure.PiecesReading), Net: text(measure.SampleReading),
	})
}

func (v *weighView) render(s WeighState) {
	v.units.Mark(s.Form.Unit)
	v.setting = true
	for r, text := range map[measure.Reading]string{
		measure.StepReading: s.Form.Step, measure.TareReading: s.Form.Tare, measure.GrossReading: s.Form.Gross,
		measure.PiecesReading: s.Form.Pieces, measure.SampleReading: s.Form.Net,
	} {
		if v.texts[r].Text != text {
			v.texts[r].SetText(text)
		}
	}
	v.setting = false
	v.stop.SetNotice(notice.Notice{Tone: notice.Stop, Text: s.Problem})
	v.stop.Hidden = s.Problem == ""
	v.answer.Set(s.Answer, "pieces", s.Known)
	v.answer.Hidden = s.Answer == ""
	v.notes.SetText(s.Note)
	v.notes.Hidden = s.Note == ""
	v.dialog.Refresh()
	if s.Loaded && !v.filled {
		v.filled = true
		v.next(0)
	}
}
