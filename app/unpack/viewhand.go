package unpack

import (
	"reflect"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"stowright/app/card"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/stockdialog"
	"stowright/app/table"
)

// handView is the card of the line in hand with what is answered about it, or the question
// that is asked about it. It stands at the right, as the card of a thing does on every page.
type handView struct {
	model *Model
	root  *fyne.Container // the line, or the question

	name    *look.Designation
	words   *look.Paragraph
	listed  *look.Paragraph
	mark    *look.StateMark
	hint    *look.Paragraph
	ticks   *look.Paragraph
	shoot   *look.KeyButton
	beware  *fyne.Container // what is easily taken for it
	piece   *fyne.Container // its form
	stowed  *fyne.Container // where it lies
	photos  *fyne.Container
	buttons map[string]*look.KeyButton
	row     *fyne.Container
	more    *look.KeyButton // what is done more seldom
	line    *fyne.Container
	prompt  *promptView

	known Current // what piece and beware are made of
	last  Side    // what stowed and photos are made of
}

// newHandView shows the line in hand; photograph and weigh do that with it, and more lists what is
// done more seldom.
func newHandView(m *Model, photograph, weigh, more func()) *handView {
	v := &handView{
		model: m, name: look.NewDesignation("", 32), words: look.NewQuiet(""), listed: look.NewLead("", ""), mark: look.NewStateMark(notice.Mark{}),
		buttons: map[string]*look.KeyButton{}, row: look.Pair(), hint: look.NewText(""), ticks: look.NewFoot(""),
		beware: look.Rows(8), piece: look.Rows(0), stowed: look.Rows(8), photos: look.Rows(8), prompt: newPromptView(m, weigh),
	}
	v.shoot = look.NewFootLink("Photograph", "P", photograph)
	v.more = look.NewKeyButton("More", moreKey, more)
	body := look.Rows(10, v.hint, v.beware, v.piece, v.stowed, v.photos, v.ticks, look.Line(v.shoot))
	head := look.Rows(8, look.Rows(2, v.name, v.words), spread(v.listed, v.mark))
	v.line = look.Pin(12, head, look.NewScroller(body), v.row)
	v.root = container.NewStack(v.line)
	return v
}

// render shows the line in hand, or the question about it.
func (v *handView) render(s State) {
	c := s.Current
	v.name.SetText(c.Designation)
	v.words.SetText(c.Title)
	v.listed.Set(c.Listed, "")
	v.mark.SetMark(c.Mark)
	v.row.Objects = nil
	for _, a := range c.Actions {
		v.button(a)
	}
	v.row.Add(v.more)
	v.hint.SetText(c.Hint)
	v.hint.Hidden = c.Hint == ""
	v.ticks.SetText(c.Ticks)
	v.shoot.SetLabel(s.Shoot)
	v.about(c, s.Side)
	v.prompt.render(s.Prompt)
	if asked := fyne.CanvasObject(v.prompt.content); s.Prompt != nil {
		v.root.Objects = []fyne.CanvasObject{asked}
	} else {
		v.root.Objects = []fyne.CanvasObject{v.line}
	}
	v.root.Refresh()
}

// about shows where the line lies, its form and its photographs, which are made again only where
// they differ.
func (v *handView) about(c Current, s Side) {
	if !reflect.DeepEqual(v.known.Piece, c.Piece) || !reflect.DeepEqual(v.known.Beware, c.Beware) {
		v.known = c
		fill(v.piece)
		if c.Piece != nil {
			fill(v.piece, look.NewPieceView(*c.Piece))
		}
		fill(v.beware)
		if len(c.Beware) > 0 {
			fill(v.beware, look.NewNotice(c.Beware...))
		}
	}
	if reflect.DeepEqual(v.last.Lies, s.Lies) && reflect.DeepEqual(v.last.Photos, s.Photos) {
		return
	}
	v.last = s
	fill(v.stowed)
	if s.Lies != nil {
		fill(v.stowed, look.NewLead(s.Lies.Place, "holds "+s.Lies.What))
		if s.Lies.Cabinet != nil {
			v.stowed.Add(look.NewCabinetMini(*s.Lies.Cabinet))
		}
	}
	fill(v.photos)
	if len(s.Photos) > 0 {
		tiles := look.NewPhotoTiles(130)
		tiles.SetPhotos(s.Photos, -1)
		tiles.OnTapped = func(int) { v.shoot.Tapped(nil) }
		fill(v.photos, tiles)
	}
}

// fill puts objects into a container in place of what it holds; an empty one takes no room.
func fill(c *fyne.Container, objects ...fyne.CanvasObject) {
	c.Objects, c.Hidden = objects, len(objects) == 0
}

// button shows an action, which gets its button the first time.
func (v *handView) button(a card.Action) {
	b, ok := v.buttons[a.ID]
	if !ok {
		b = look.NewKeyButton(a.Label, a.Key, func() { v.model.Key(a.ID) })
		v.buttons[a.ID] = b
	}
	v.row.Add(b)
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

	name     *look.Designation // what it is about
	question *look.Paragraph
	hint     *look.Paragraph
	field    *look.Entry
	answer   *look.KeyButton
	weigh    *look.KeyButton
	options  *look.RowList
	room     fyne.CanvasObject // takes the height that is left where there are no options
	problem  *look.Notice
	content  *fyne.Container
}

func newPromptView(m *Model, weigh func()) *promptView {
	v := &promptView{
		model: m, name: look.NewDesignation("", 22), question: look.NewHeading(""), room: look.Gap(), hint: look.NewFoot(""), field: look.NewAmountEntry(""),
		problem: look.NewNotice(notice.Notice{Tone: notice.Stop}),
	}
	v.answer = look.NewPrimary("", "Enter", func() { m.Key("Enter") })
	v.weigh = look.NewLink("Weigh instead", stockdialog.WeighKey, weigh)
	v.options = look.NewRowList(table.Column{Kind: table.Names})
	v.options.SetRowHeight(50)
	v.options.OnChosen = func(i int, _ table.Row) { m.ChooseOption(i) }
	v.field.OnChanged = v.typed
	v.field.OnSubmitted = func(string) { m.Key("Enter") }
	v.field.OnDown = func() { m.Key("Down") }
	v.field.OnEscape = func() bool { return m.Key("Esc") }
	leave := look.NewKeyButton("Leave it", "Esc", func() { m.Key("Esc") })
	v.content = look.Pin(8, v.name, v.question, v.field, v.problem, v.hint, v.weigh, v.options, v.room, look.Pair(v.answer, leave))
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
		v.serial = 0
		return
	}
	v.name.SetText(p.About)
	v.question.SetText(p.Question)
	v.hint.SetText(p.Hint)
	v.hint.Hidden = p.Hint == ""
	v.answer.SetLabel(p.Answer)
	v.field.SetUnit(p.Unit)
	v.weigh.Hidden = !p.Weigh
	v.problem.SetNotice(notice.Notice{Tone: notice.Stop, Text: p.Error})
	v.problem.Hidden = p.Error == ""
	v.options.Hidden = len(p.Options) == 0
	if v.room.Show(); !v.options.Hidden {
		v.room.Hide()
	}
	v.options.SetRows(under(p.Options))
	v.options.Mark(p.Option)
	if v.serial == p.Serial && v.field.Text != p.Text { // typed without the focus
		v.fill(p.Text)
	}
}

// begun gives the keyboard to a question that is new; its field must be in the window by now.
func (v *promptView) begun(p *Prompt) {
	if p != nil && v.serial != p.Serial {
		v.serial = p.Serial
		v.begin(p)
	}
}

// under sets what is said of each option below its name: a card is narrow.
func under(options []table.Row) []table.Row {
	rows := make([]table.Row, len(options))
	for i, o := range options {
		words := slices.DeleteFunc([]string{o.Cells[1].Text, o.Cells[1].Sub}, func(s string) bool { return s == "" })
		rows[i] = table.Row{ID: o.ID, Cells: []table.Cell{table.Name(o.Cells[0].Text, strings.Join(words, ", "))}}
	}
	return rows
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
