package unpack

import (
	"fmt"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"

	"stowright/app"
	"stowright/app/folders"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store"
)

// claimView shows the claim of a shipment.
type claimView struct {
	model *ClaimModel
	host  app.Host
	path  *look.PathPick
	paper *fyne.Container
	foot  *fyne.Container
	said  *look.Notice
	name  *look.Paragraph
	note  *look.Notice
	mark  *look.KeyButton
	reply *look.KeyButton
	give  *look.KeyButton
	price *look.KeyButton
	root  *fyne.Container
}

func newClaimView(s *session.Session, host app.Host, shipment string) *claimView {
	v := &claimView{
		host: host, path: look.NewPathPick(s.Folders, folders.NewFile("claim.txt"), "where to save it"), paper: look.Rows(14), said: look.NewNotice(notice.Notice{}),
		name: look.NewTitle("Claim for this delivery"), note: look.NewNotice(notice.Notice{Tone: notice.Warn}),
	}
	v.model = NewClaimModel(s, shipment, s.Folders.ToWrite(), v.render)
	v.model.AskReplace = func(files []string, replace func()) { look.AskReplace(files, host.Ask, replace) }
	v.path.OnPicked = v.model.Save
	v.foot = look.Line(v.path, look.NewPrimary("Save as PDF", "P", func() { v.saveAs(".pdf") }), look.NewKeyButton("Save as text", "S", func() { v.saveAs(".txt") }), look.NewKeyButton("Copy", "C", v.copy))
	v.mark = look.NewKeyButton("Mark sent", "M", v.askSent)
	v.reply = look.NewKeyButton("Note the answer", "A", v.askAnswer)
	v.give = look.NewKeyButton("Give up", "G", v.askGiveUp)
	v.price = look.NewKeyButton("Note a price", "N", v.askPrice)
	v.said.Hide()
	v.note.Hide()
	v.root = look.Fill(12, v.name, v.note, look.NewScroller(look.NewPanel(20, v.paper)), v.said, look.Line(v.mark, v.reply, v.give, v.price), v.foot)
	host.HideCard()
	v.model.Load()
	return v
}

func (v *claimView) object() fyne.CanvasObject { return v.root }
func (v *claimView) title() string             { return "Claim" }
func (v *claimView) key(string) bool           { return false } // all keys are on buttons
func (v *claimView) changed()                  { v.model.Load() }

// saveAs saves under the name in the field, with that ending.
func (v *claimView) saveAs(ending string) {
	path := v.path.Path()
	if old := filepath.Ext(path); strings.EqualFold(old, ".txt") || strings.EqualFold(old, ".pdf") {
		path = strings.TrimSuffix(path, old) + ending
		v.path.SetPath(path)
	}
	v.model.Save(path)
}

func (v *claimView) copy() {
	fyne.CurrentApp().Clipboard().SetContent(v.model.State().Text)
	v.model.Copied()
}

// askSent asks how the claim was sent, and when.
func (v *claimView) askSent() {
	how, day := look.NewEntry("by e-mail, by telephone to whom"), look.NewEntry(v.model.State().Today)
	day.SetText(v.model.State().Today)
	day.SelectAll() // another day that is typed takes its place
	field, way := look.NewField("On which day", day, ""), look.NewField("How", how, "")
	var d *look.Dialog
	done := func() {
		at := field // what is wrong is said at its field
		if way.SetProblem(""); strings.TrimSpace(how.Text) == "" {
			at = way
		}
		v.model.MarkSent(day.Text, how.Text, func(problem string) {
			if at.SetProblem(problem); problem == "" {
				d.Close()
			}
		})
	}
	how.OnSubmitted, day.OnSubmitted = func(string) { done() }, func(string) { done() }
	words := wording.Plural(v.model.State().Unsent, "line is", "lines are") + " marked as sent. What is found later stays unsent."
	d = look.NewDialog("Was the claim sent?", look.Rows(12, look.NewText(words), way, field),
		look.NewKeyButton("Cancel", "Esc", func() { d.Close() }), look.NewPrimary("Mark sent", "Enter", done))
	v.host.Ask(d, how)
}

// askGiveUp asks what is not claimed after all, and why.
func (v *claimView) askGiveUp() {
	v.askTwo(twoTexts{
		title: "Give the claim up?",
		words: wording.Plural(v.model.State().Unsent, "line was", "lines were") + " not sent. What is given up is out of sight; Undo claims it again, and what is found later is claimed anew.",
		first: [2]string{"Lines", "all that was not sent"}, second: [2]string{"Why", "as the supplier said"}, does: "Give up",
	}, v.model.GiveUp)
}

// askPrice asks what one unit of a line costs.
func (v *claimView) askPrice() {
	var lines []string
	for _, l := range v.model.Unpriced() {
		lines = append(lines, fmt.Sprint(l.Number))
	}
	v.askTwo(twoTexts{
		title: "What does one cost?",
		words: "The packing list has no price of the lines " + wording.Joined(", ", lines...) + ". Left empty, the price is the last one that an order says.",
		first: [2]string{"Line", "such as 7"}, second: [2]string{"Price of one", "4.50 USD"}, does: "Note it",
	}, v.model.Priced)
}

// twoTexts is a question for two texts, each with its label and an example.
type twoTexts struct {
	title, words  string
	first, second [2]string
	does          string // what the button does
}

// askTwo asks for two texts, and stays open with what is wrong with them.
func (v *claimView) askTwo(q twoTexts, do func(first, second string, asked func(problem string))) {
	a, b := look.NewEntry(q.first[1]), look.NewEntry(q.second[1])
	field := look.NewField(q.second[0], b, "")
	var d *look.Dialog
	done := func() {
		do(a.Text, b.Text, func(problem string) {
			if field.SetProblem(problem); problem == "" {
				d.Close()
			}
		})
	}
	a.OnSubmitted, b.OnSubmitted = func(string) { look.FocusOn(b) }, func(string) { done() }
	d = look.NewDialog(q.title, look.Rows(12, look.NewText(q.words), look.NewField(q.first[0], a, ""), field),
		look.NewKeyButton("Cancel", "Esc", func() { d.Close() }), look.NewPrimary(q.does, "Enter", done))
	v.host.Ask(d, a)
}

// askAnswer asks what the supplier answered.
func (v *claimView) askAnswer() {
	lines, note, credited := look.NewEntry("all without an answer"), look.NewEntry("as it was answered"), look.NewEntry("of one line, as 9.00 USD")
	list := look.NewRowList(table.Column{Title: "the supplier answered", Kind: table.Words})
	var rows []table.Row
	for _, a := range []store.Reply{store.Replacement, store.Credit, store.Refused} {
		rows = append(rows, table.Row{ID: string(a), Cells: []table.Cell{table.T(string(a))}})
	}
	list.SetRows(rows)
	list.Mark(0)
	var d *look.Dialog
	done := func() {
		chosen, _ := list.Chosen()
		d.Close()
		v.model.Answered(lines.Text, store.Reply(chosen.ID), note.Text, credited.Text)
	}
	list.OnOpened = func(int, table.Row) { done() }
	for _, e := range []*look.Entry{lines, note, credited} {
		e.OnSubmitted = func(string) { done() }
	}
	d = look.NewDialog("What did the supplier answer?", look.Fill(12, list, look.NewField("Lines", lines, ""), look.NewField("Credited", credited, ""), look.NewField("Note", note, "")),
		look.NewKeyButton("Cancel", "Esc", func() { d.Close() }), look.NewPrimary("Note it", "Enter", done))
	v.host.Ask(d, list)
}

// render shows a state.
func (v *claimView) render(s ClaimState) {
	v.note.SetNotice(notice.Notice{Tone: notice.Warn, Text: s.Note})
	v.note.Hidden = s.Note == ""
	said := notice.Notice{Tone: notice.OK, Text: s.Said}
	if s.Error != "" {
		said = notice.Notice{Tone: notice.Stop, Text: s.Error}
	}
	v.said.SetNotice(said)
	v.said.Hidden = said.Text == ""
	if v.path.Path() == "" {
		v.path.SetPath(s.Path)
	}
	v.mark.SetOff(s.Unsent == 0)
	v.reply.SetOff(s.Sent == 0)
	v.give.SetOff(s.Unsent == 0)
	v.price.SetOff(len(v.model.Unpriced()) == 0)
	v.paper.Objects = claimPaper(s.Claim)
	v.root.Refresh()
}

// claimPaper is the claim as it reads on paper.
func claimPaper(c Claim) []fyne.CanvasObject {
	head := look.Rows(2)
	if c.Order != "" {
		head.Add(look.NewHeading("Claim for order " + c.Order))
	}
	if c.Supplier != "" {
		head.Add(look.NewText("To: " + c.Supplier))
	}
	for _, came := range c.Came {
		head.Add(look.NewQuiet(came))
	}
	out := []fyne.CanvasObject{head}
	if len(c.Sections) == 0 {
		out = append(out, look.NewText("Nothing to claim."))
	}
	for _, s := range c.Sections {
		rows := look.Rows(6, look.NewHeading(s.Title))
		for _, l := range s.Lines {
			line := look.Rows(0, look.NewLead(l.Designation, fmt.Sprintf("%s, line %d", l.Title, l.Number)), look.NewQuiet(l.Words))
			for _, words := range []string{l.Worth, l.PhotoWords(), l.Sent} {
				if words != "" {
					line.Add(look.NewQuiet(words))
				}
			}
			rows.Add(line)
		}
		out = append(out, rows)
	}
	for _, words := range c.Money() {
		out = append(out, look.NewText(words))
	}
	if len(c.GivenUp) > 0 {
		rows := look.Rows(6, look.NewHeading("Given up, not on the paper"))
		for _, l := range c.GivenUp {
			rows.Add(look.Rows(0, look.NewLead(l.Designation, fmt.Sprintf("%s, line %d", l.Title, l.Number)), look.NewQuiet(l.Words), look.NewQuiet(l.Sent)))
		}
		out = append(out, rows)
	}
	return out
}
