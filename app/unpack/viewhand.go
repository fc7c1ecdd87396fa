package unpack

import (
	"fyne.io/fyne/v2"

	"stowright/app/card"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/stockdialog"
	"stowright/app/table"
)

// handView is the line in hand with its keys, or the question about it.
type handView struct {
	model *Model
	panel *look.Panel

	name    *look.Designation
	words   *look.Paragraph
	listed  *look.Paragraph
	mark    *look.StateMark
	buttons map[string]*look.KeyButton
	row     *fyne.Container
	head    *fyne.Container // what is in hand
	hint    *look.Paragraph
	ticks   *look.Paragraph
	weigh   *look.KeyButton
	shoot   *look.KeyButton
	looked  *look.KeyButton
	more    *look.KeyButton // what is done more seldom
	foot    *fyne.Container
	before  *look.Notice      // about the line checked before
	rest    fyne.CanvasObject // takes the height that is left, unless a question does
	problem *look.Notice
	prompt  *promptView
	content *fyne.Container
}

// newHandView shows the line in hand; photograph and weigh do that with it, and more lists what is
// done more seldom.
func newHandView(m *Model, photograph, weigh, more func()) *handView {
	v := &handView{
		model: m, name: look.NewDesignation("", 32), words: look.NewQuiet(""), listed: look.NewText(""), mark: look.NewStateMark(notice.Mark{}),
		buttons: map[string]*look.KeyButton{}, row: look.Line(), hint: look.NewQuiet(""), ticks: look.NewFoot(""),
		problem: look.NewNotice(notice.Notice{Tone: notice.Stop}), prompt: newPromptView(m, weigh), weigh: look.NewLink("Weigh", stockdialog.WeighKey, weigh),
	}
	v.shoot, v.looked, v.foot = look.NewLink("Photograph", "P", photograph), look.NewLink("Looked at", "L", func() { m.Key("L") }), look.Line()
	v.more = look.NewLink("More", moreKey, more)
	v.tighten(false)
	v.before, v.rest = look.NewNotice(notice.Notice{}), look.Gap()
	v.head = spread(look.Line(v.name, v.words), v.mark, v.listed)
	v.content = look.Fill(10, v.head, v.problem, v.row, v.prompt.content, v.hint, v.foot, v.before, v.rest)
	v.panel = look.NewPanel(16, v.content)
	return v
}

// tighten sets the foot: where the side lies over the work the links come first, so
// that they stay in one row.
func (v *handView) tighten(over bool) {
	links := []fyne.CanvasObject{v.weigh, v.shoot, v.looked, v.more}
	if over {
		v.foot.Objects = append(links, v.ticks)
		return
	}
	v.foot.Objects = append([]fyne.CanvasObject{v.ticks, look.Gap()}, links...)
}

// see shows the keys, or the question in their place.
func (v *handView) see() {
	asking := v.prompt.serial != 0
	v.row.Hidden, v.foot.Hidden = asking, asking
	v.hint.Hidden = asking || v.hint.Text() == ""
	if asking {
		v.rest.Hide()
	} else {
		v.rest.Show()
	}
}

// lower makes the line in hand lower where the window is low, so that its list stays in sight:
// what the list says and the foot give way. Its keys work all the same.
func (v *handView) lower(by int) {
	asking := v.prompt.serial != 0
	v.head.Hidden = by > 1 && !asking
	v.foot.Hidden = v.foot.Hidden || by > 1
	v.hint.Hidden = v.hint.Hidden || by > 1
	if by > 0 {
		v.rest.Hide()
	}
}

// render shows the line in hand. Where the side lies over the work there is less room:
// the side says what is said of the line before.
func (v *handView) render(s State, over bool) {
	c := s.Current
	v.name.SetText(c.Designation)
	v.words.SetText(c.Title)
	v.listed.SetText(c.Listed)
	v.mark.SetMark(c.Mark)
	v.problem.SetNotice(notice.Notice{Tone: notice.Stop, Text: s.Error})
	v.problem.Hidden = s.Error == ""
	for _, a := range c.Actions {
		v.button(a)
	}
	asking := s.Prompt != nil
	v.before.Hidden = asking || over || s.Before == nil
	if s.Before != nil {
		v.before.SetNotice(*s.Before)
	}
	v.hint.SetText(c.Hint)
	v.ticks.SetText(c.Ticks)
	v.shoot.SetLabel(s.Shoot)
	v.weigh.Hidden = !c.Weigh
	v.prompt.render(s.Prompt)
	v.see()
	v.panel.Refresh()
}

// button shows an action, which gets its button the first time.
func (v *handView) button(a card.Action) {
	b, ok := v.buttons[a.ID]
	if !ok {
		b = look.NewKeyButton(a.Label, a.Key, func() { v.model.Key(a.ID) })
		v.buttons[a.ID] = b
		v.row.Add(b)
	}
	b.SetLabel(a.Label)
	b.SetOff(a.Off)
	b.SetRank(look.Secondary)
	if a.Primary {
		b.SetRank(look.Primary)
	}
}

// promptView is a question with its field.
type promptView struct {
	model   *Model
	serial  int
	setting bool // the field is being filled by the program

	question *look.Paragraph
	hint     *look.Paragraph
	field    *look.Entry
	answer   *look.KeyButton
	weigh    *look.KeyButton
	options  *look.RowList
	problem  *look.Notice
	content  *fyne.Container
}

func newPromptView(m *Model, weigh func()) *promptView {
	v := &promptView{
		model: m, question: look.NewHeading(""), hint: look.NewFoot(""), field: look.NewAmountEntry(""),
		problem: look.NewNotice(notice.Notice{Tone: notice.Stop}),
	}
	v.answer = look.NewPrimary("", "Enter", func() { m.Key("Enter") })
	v.weigh = look.NewKeyButton("Weigh instead", stockdialog.WeighKey, weigh)
	v.options = look.NewRowList(table.Column{Kind: table.Names, Width: 190}, table.Column{})
	v.options.SetRowHeight(46)
	v.options.OnChosen = func(i int, _ table.Row) { m.ChooseOption(i) }
	v.field.OnChanged = v.typed
	v.field.OnSubmitted = func(string) { m.Key("Enter") }
	v.field.OnDown = func() { m.Key("Down") }
	v.field.OnEscape = func() bool { return m.Key("Esc") }
	v.content = look.Fill(8, v.question, look.Line(v.field, v.answer, v.weigh, look.NewKeyButton("Leave it", "Esc", func() { m.Key("Esc") })),
		v.problem, v.options, v.hint)
	return v
}

func (v *promptView) typed(text string) {
	if !v.setting {
		v.model.Type(text)
	}
}

// render shows a question, or takes it away.
func (v *promptView) render(p *Prompt) {
	if p == nil {
		if v.serial != 0 {
			v.leave()
		}
		v.serial, v.content.Hidden = 0, true
		return
	}
	v.content.Hidden = false
	v.question.SetText(p.Question)
	v.hint.SetText(p.Hint)
	v.answer.SetLabel(p.Answer)
	v.field.SetUnit(p.Unit)
	v.weigh.Hidden = !p.Weigh
	v.problem.SetNotice(notice.Notice{Tone: notice.Stop, Text: p.Error})
	v.problem.Hidden = p.Error == ""
	v.options.Hidden = len(p.Options) == 0
	v.options.SetRows(p.Options)
	v.options.Mark(p.Option)
	switch {
	case v.serial != p.Serial:
		v.serial = p.Serial
		v.begin(p)
	case v.field.Text != p.Text: // typed without the focus
		v.fill(p.Text)
	}
}

// begin fills the field of a new question and gives it the keyboard. A proposal is
// selected, so that typing replaces it.
func (v *promptView) begin(p *Prompt) {
	v.fill(p.Text)
	look.FocusOn(v.field)
	if !p.Begun && p.Text != "" {
		v.field.TypedShortcut(&fyne.ShortcutSelectAll{})
	}
}

// fill puts a text into the field, with the cursor behind it.
func (v *promptView) fill(text string) {
	v.setting = true
	v.field.SetText(text)
	v.field.CursorColumn = len([]rune(text))
	v.setting = false
}

// leave gives the keyboard back to the single keys.
func (v *promptView) leave() {
	if c := fyne.CurrentApp().Driver().CanvasForObject(v.field); c != nil && c.Focused() == fyne.Focusable(v.field) {
		c.Unfocus()
	}
}
