package building

import (
	"fyne.io/fyne/v2"

	"stowright/app/look"
	"stowright/app/notice"
)

// walkHand is the stop in hand with its keys, or the question about it.
type walkHand struct {
	page   *WalkPage
	panel  *look.Panel
	number *look.Designation
	words  *look.Paragraph
	left   *look.Paragraph
	beware *look.Notice
	take   *look.KeyButton
	leave  *look.KeyButton
	hint   *look.Paragraph
	sound  *look.KeyButton
	links  *fyne.Container
	row    *fyne.Container

	serial   int
	question *look.Paragraph
	field    *look.Entry
	answer   *look.KeyButton
	problem  *look.Notice
	foot     *look.Paragraph
	asking   *fyne.Container
}

func newWalkHand(p *WalkPage) *walkHand {
	v := &walkHand{
		page: p, number: look.NewDesignation("", 30), words: look.NewHeading(""), left: look.NewQuiet(""), beware: look.NewNotice(notice.Notice{Tone: notice.Warn}), hint: look.NewFoot("Or scan the drawer: the right one takes the line, a wrong one says so."),
		question: look.NewHeading(""), field: look.NewEntry(""), problem: look.NewNotice(notice.Notice{Tone: notice.Stop}), foot: look.NewFoot(""),
	}
	key := func(name string) func() { return func() { p.model.Key(name) } }
	v.take = look.NewPrimary("Taken", "Enter", key("Enter"))
	v.leave = look.NewKeyButton("Leave it", "Esc", func() { p.host.Back() })
	keys := look.Line(v.take, look.NewKeyButton("Fewer", "S", key("S")), look.NewKeyButton("Not here", "N", key("N")), v.leave)
	v.sound = look.NewFootLink("", "M", p.model.Sound)
	v.links = look.Line(look.NewFootLink("Something else", "E", key("E")), look.NewFootLink("Ticked on paper", "K", p.ticks), v.sound)
	v.row = look.Rows(10, look.Line(v.number, v.words, look.Gap(), v.left), v.beware, keys, v.hint, v.links)
	v.answer = look.NewPrimary("", "Enter", func() { p.model.Answer(v.field.Text) })
	v.field.OnSubmitted = p.model.Answer
	v.field.OnEscape = func() bool { return p.model.Key("Esc") }
	v.asking = look.Rows(8, v.question, look.Line(v.field, v.answer, look.NewKeyButton("Leave it", "Esc", p.model.Leave)), v.problem, v.foot)
	v.panel = look.NewPanel(16, look.Rows(0, v.row, v.asking))
	return v
}

func (v *walkHand) render(s WalkState) {
	v.panel.Hidden = s.Current < 0 && s.Prompt == nil
	v.row.Hidden, v.asking.Hidden = s.Prompt != nil, s.Prompt == nil
	v.number.SetText(s.Hand.Quantity)
	v.words.SetText(s.Hand.Item + " out of " + s.Hand.Place)
	v.left.SetText(s.Hand.Left)
	v.beware.SetNotice(s.Hand.Beware)
	v.take.SetLabel("Taken: " + s.Hand.Quantity)
	v.sound.SetLabel(soundWord(v.page.model.Silent()))
	defer v.panel.Refresh()
	if s.Prompt == nil {
		if v.serial != 0 {
			v.serial = 0
			v.page.host.Rest()
		}
		return
	}
	v.question.SetText(s.Prompt.Question)
	v.foot.SetText(s.Prompt.Hint)
	v.answer.SetLabel(s.Prompt.Answer)
	v.problem.SetNotice(notice.Notice{Tone: notice.Stop, Text: s.Prompt.Problem})
	v.problem.Hidden = s.Prompt.Problem == ""
	if v.serial != s.Prompt.Serial {
		v.serial = s.Prompt.Serial
		v.field.SetText(s.Prompt.Text)
		look.FocusOn(v.field)
	}
}
