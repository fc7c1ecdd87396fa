package unpack

import (
	"path/filepath"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"stowright/app"
	"stowright/app/folders"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/table"
)

// listView brings a packing list in.
type listView struct {
	model *ListModel
	host  app.Host

	name, note *look.Paragraph
	pick       *look.PathPick
	intro      *look.Paragraph
	trouble    *look.Notice
	progress   *look.Progress
	columns    *look.RowList
	lines      *look.RowList
	points     *look.RowList
	ways       *fyne.Container // the ways to settle the point in hand
	order      *look.Entry
	supplier   *look.Entry
	confirm    *look.KeyButton
	headings   *look.KeyButton
	sheet      *look.KeyButton
	settle     *look.KeyButton
	paste      *look.KeyButton
	foot       *fyne.Container
	fields     *fyne.Container
	root       *fyne.Container
	reading    bool // a file was named, and the focus goes to what was read of it
}

// listEndings are the files that can be read.
var listEndings = []string{".csv", ".tsv", ".txt", ".xlsx", ".ods", ".pdf"}

func newListView(s *session.Session, host app.Host, path string) *listView {
	v := &listView{
		host: host, name: look.NewTitle("Bring a packing list in"), note: look.NewQuiet(""),
		pick: look.NewPathPick(s.Folders, folders.File(listEndings...), "the file: type its path, choose it, or drop it here"),
		intro: look.NewQuiet("A spreadsheet, text or PDF: XLSX, ODS, CSV, tab-separated, a PDF that has text, or a table copied from one. Part number and quantity are needed; crate, bag and status help. " +
			"A list on paper or scanned: type it into a spreadsheet with one line a row, or ask the kit maker for the file."),
		trouble: look.NewNotice(notice.Notice{}), columns: look.NewRowList(ColumnColumns()...), lines: look.NewRowList(PreviewColumns()...),
		points: look.NewRowList(PointColumns()...), ways: container.NewStack(), order: look.NewEntry("as on the paperwork"), supplier: look.NewEntry("who sent it"),
	}
	v.model = NewListModel(s, v.render, v.opened)
	v.pick.OnPicked = v.open
	v.columns.SetRowHeight(46)
	v.lines.SetRowHeight(46)
	v.points.SetRowHeight(46)
	v.points.OnChosen = func(i int, _ table.Row) { v.model.ChoosePoint(i) }
	v.columns.OnChosen = func(i int, _ table.Row) { v.model.ChooseField(i) }
	v.progress = look.NewProgress("", v.model.Stop)
	v.confirm = look.NewPrimary("Bring it in", "Enter", v.take)
	v.headings = look.NewLink("Headings or not", "H", v.model.Headings)
	v.sheet = look.NewLink("Next sheet", "N", v.model.NextSheet)
	v.settle = look.NewLink("What was left out", "L", v.model.ShowPoints)
	v.paste = look.NewLink("Paste a table", "V", v.pasted)
	v.order.OnSubmitted = func(string) { v.take() }
	v.supplier.OnSubmitted = func(string) { v.take() }
	v.foot = container.New(&halves{},
		look.NewKeyButton("Column before", "Left", func() { v.model.Shift(-1) }), look.NewKeyButton("Next column", "Right", func() { v.model.Shift(1) }))
	v.fields = container.New(&halves{}, look.NewField("Order", v.order, ""), look.NewField("Supplier", v.supplier, ""))
	v.root = container.New(&listLayout{v}, v.name, v.note, v.pick, v.intro, v.trouble, v.progress, v.columns, v.foot, v.lines, v.points, v.ways, v.fields, v.confirm, v.headings, v.sheet, v.settle, v.paste)
	host.HideCard()
	v.pick.SetPath(path)
	v.render(v.model.State())
	if path != "" {
		v.open(path)
	} else {
		s.Loop.Post(func() { look.FocusOn(v.pick.Focusable()) })
	}
	return v
}

func (v *listView) object() fyne.CanvasObject { return v.root }
func (v *listView) title() string             { return "Bring a packing list in" }
func (v *listView) changed()                  {}

func (v *listView) key(key string) bool {
	s := v.model.State()
	switch {
	case s.Working != "" && key == "Esc":
		v.model.Stop()
	case key == "V":
		v.pasted()
	case s.Title == "":
		return false
	case len(key) == 1 && key >= "1" && key <= "9":
		v.way(int(key[0] - '0'))
	case key == "Left":
		v.model.Shift(-1)
	case key == "Right":
		v.model.Shift(1)
	case key == "Down" && s.Settle:
		v.model.ChoosePoint(s.Point + 1)
	case key == "Up" && s.Settle:
		v.model.ChoosePoint(s.Point - 1)
	case key == "Down":
		v.model.ChooseField(s.Column + 1)
	case key == "Up":
		v.model.ChooseField(s.Column - 1)
	case key == "L":
		v.model.ShowPoints()
	case key == "N":
		v.model.NextSheet()
	case key == "H":
		v.model.Headings()
	case key == "Enter":
		v.take()
	default:
		return false
	}
	return true
}

// open reads a file; what was read of it has the focus then, so that single keys work and it is
// seen what has them.
func (v *listView) open(path string) {
	v.reading = true
	v.order.SetText("")
	v.model.Open(path)
}

// pasted reads the table on the clipboard.
func (v *listView) pasted() {
	v.reading = true
	v.order.SetText("")
	v.model.Paste(fyne.CurrentApp().Clipboard().Content())
}

// way settles the point in hand in the way with that number, or asks what a cell
// should say.
func (v *listView) way(number int) {
	cell := v.model.Settle(number)
	if cell == nil {
		return
	}
	text := look.NewEntry("what it should say")
	text.SetText(cell.Text)
	var d *look.Dialog
	done := func() {
		d.Close()
		v.model.Mend(cell, text.Text)
	}
	text.OnSubmitted = func(string) { done() }
	d = look.NewDialog("Type it again", look.NewField(cell.Where, text, cell.Wrong+" The file itself is left as it is."),
		look.NewKeyButton("Cancel", "Esc", func() { d.Close() }), look.NewPrimary("Take it", "Enter", done))
	v.host.Ask(d, text)
}

func (v *listView) take() { v.model.Confirm(v.order.Text, v.supplier.Text) }

// opened goes on with a list that is in the shop.
func (v *listView) opened(b Brought) {
	to := routes.Route{Screen: routes.Unpack, About: b.Ship.ID, Part: ArrivalPart}
	if len(b.Ship.Deliveries) > 0 {
		to.Part = ""
	}
	v.host.Go(to)
	switch {
	case !b.Fresh:
		v.host.Say(notice.Notice{Tone: notice.OK, Lead: "This list is known:", Text: "it was brought in before from " + b.Ship.File + ". Nothing was added; here it is."})
	case b.Revised != nil:
		v.host.Say(b.said())
	}
}

// render shows a state.
func (v *listView) render(s ListState) {
	read := s.Title != ""
	v.note.SetText(s.Note)
	v.name.SetText("Bring a packing list in")
	if s.Title != "" {
		v.name.SetText(filepath.Base(s.Title))
	}
	v.note.Hidden = s.Note == ""
	v.intro.Hidden = read || s.Working != ""
	v.pick.Hidden = s.Working != ""
	v.progress.Hidden = s.Working == ""
	v.progress.Set(s.Working, -1)
	v.trouble.Hidden = s.Trouble == nil
	if s.Trouble != nil {
		v.trouble.SetNotice(*s.Trouble)
	}
	v.columns.SetRows(s.Columns)
	v.columns.Mark(s.Column)
	v.lines.SetRows(s.Lines)
	v.points.SetRows(s.Points)
	v.points.Mark(s.Point)
	v.setWays(s.Ways)
	v.columns.Hidden, v.foot.Hidden, v.fields.Hidden = len(s.Columns) == 0, len(s.Columns) == 0, !s.Ready || s.Settle
	v.points.Hidden, v.lines.Hidden = !read || !s.Settle, !read || s.Settle
	v.confirm.Hidden, v.headings.Hidden, v.sheet.Hidden = !read, len(s.Columns) == 0, s.Sheets < 2
	v.settle.Hidden, v.paste.Hidden = !read || len(s.Points) == 0, read || s.Working != ""
	v.settle.SetLabel(map[bool]string{true: "The lines", false: "What was left out"}[s.Settle])
	v.confirm.SetOff(!s.Ready)
	if s.Order != "" && v.order.Text == "" {
		v.order.SetText(s.Order)
	}
	v.root.Refresh()
	v.focus(s)
}

// focus gives the focus to what was read of a file, or to its path where it cannot be read.
func (v *listView) focus(s ListState) {
	if !v.reading || s.Working != "" || s.Title == "" && s.Trouble == nil {
		return
	}
	v.reading = false
	switch {
	case s.Title == "":
		look.FocusOn(v.pick.Focusable())
	case s.Settle:
		look.FocusOn(v.points)
	case !v.columns.Hidden:
		look.FocusOn(v.columns)
	default:
		look.FocusOn(v.lines)
	}
}

// setWays shows a button for each way to settle the point in hand.
func (v *listView) setWays(ways []string) {
	buttons := make([]fyne.CanvasObject, len(ways))
	for i, words := range ways {
		buttons[i] = look.NewKeyButton(words, strconv.Itoa(i+1), func() { v.way(i + 1) })
	}
	v.ways.Objects = []fyne.CanvasObject{look.Rows(4, buttons...)}
	v.ways.Hidden = len(ways) == 0
	v.ways.Refresh()
}

// listLayout sets the recognised columns at the left and what was read by them at
// the right.
type listLayout struct{ v *listView }

// MinSize is small: the lists scroll.
func (l *listLayout) MinSize([]fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(look.Px(420), look.Px(380))
}

// Layout places the parts.
func (l *listLayout) Layout(_ []fyne.CanvasObject, size fyne.Size) {
	v, gap, y := l.v, look.Px(columnGap), float32(0)
	down := func(o fyne.CanvasObject, h, space float32) {
		if o.Visible() {
			put(o, 0, y, size.Width, h)
			y += h + space
		}
	}
	under := gap
	if v.note.Visible() {
		under = look.Px(2)
	}
	link := v.headings.MinSize()
	put(v.headings, size.Width-link.Width, 0, link.Width, link.Height)
	next := v.sheet.MinSize()
	third := v.settle.MinSize()
	after := size.Width - link.Width - gap - third.Width
	put(v.settle, after, 0, third.Width, third.Height)
	put(v.sheet, after-gap-next.Width, 0, next.Width, next.Height)
	put(v.paste, size.Width-v.paste.MinSize().Width, 0, v.paste.MinSize().Width, v.paste.MinSize().Height)
	down(v.name, v.name.HeightFor(size.Width), under)
	down(v.note, v.note.HeightFor(size.Width), gap)
	down(v.pick, v.pick.HeightFor(size.Width), gap)
	down(v.intro, v.intro.HeightFor(min(size.Width, look.Px(680))), gap)
	v.intro.Resize(fyne.NewSize(min(size.Width, look.Px(680)), v.intro.Size().Height))
	down(v.trouble, v.trouble.HeightFor(size.Width), gap)
	down(v.progress, v.progress.HeightFor(size.Width), gap)
	if !v.confirm.Visible() {
		return
	}
	left := size.Width * 0.42
	right := size.Width - left - gap
	footH, buttonH, fieldsH := v.confirm.MinSize().Height, v.confirm.MinSize().Height, float32(0)
	if v.fields.Visible() {
		fieldsH = v.fields.MinSize().Height + gap
	}
	bottom := size.Height - footH
	put(v.columns, 0, y, left, max(look.Px(100), bottom-gap-y))
	put(v.foot, 0, bottom, left, footH)
	waysH := float32(0)
	if v.ways.Visible() {
		waysH = v.ways.MinSize().Height + gap
	}
	listH := max(look.Px(100), size.Height-buttonH-gap-fieldsH-waysH-y)
	put(v.lines, left+gap, y, right, listH)
	put(v.points, left+gap, y, right, listH)
	put(v.ways, left+gap, y+listH+gap, right, waysH-gap)
	put(v.fields, left+gap, y+listH+gap+waysH, right, fieldsH-gap)
	put(v.confirm, left+gap, size.Height-buttonH, right, buttonH)
}
