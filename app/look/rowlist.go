package look

import (
	"math"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"stowright/app/table"
)

// RowList is a list of rows under its own header. It only ever holds the rows in
// sight, so a hundred thousand of them cost what a dozen do. Up, Down, Page Up,
// Page Down, Home and End move the choice, Enter opens it; Up from the first row
// and everything else that is typed goes on to the window. Fyne's Table scrolls at
// 0.5 ms a step, with headers at 1.2 ms, where rows of our own need 0.13 ms
// (100,000 rows).
type RowList struct {
	widget.BaseWidget
	// OnChosen is called with the row that is chosen, by index, whenever that changes.
	OnChosen func(index int, row table.Row)
	// OnOpened is called when Enter was pressed on the chosen row.
	OnOpened func(index int, row table.Row)
	// OnTapped is called when a row was tapped, after it was chosen.
	OnTapped func(index int, row table.Row)
	// OnTaken is called when a person has taken the list in hand: with the keyboard or by a
	// tap. Until then its chosen row is the program's proposal.
	OnTaken func()
	// OnTappedAgain is called when the row that was already chosen was tapped.
	OnTappedAgain func()

	columns    []table.Column
	height     float32 // of a row, points at normal size
	whole      float32 // of the list, points at normal size; 0 for that of all rows
	count      int
	rowAt      func(int) table.Row
	chosen     int // -1 for none
	focused    bool
	tappedAt   time.Time // the last tap
	tappedOnce bool      // a second tap may open
	unseen     bool      // the choice was made before there was room to scroll in
	laid       float32   // the height of a row in the last layout

	scroll *container.Scroll
	space  *rowSpace
}

var _ fyne.Focusable = (*RowList)(nil)

// NewRowList is an empty list with those columns. Without titles no header is drawn.
func NewRowList(columns ...table.Column) *RowList {
	l := &RowList{columns: columns, height: rowHeight, chosen: -1}
	l.space = newRowSpace(l)
	l.scroll = container.NewVScroll(l.space)
	l.scroll.OnScrolled = func(fyne.Position) { l.space.update() }
	l.ExtendBaseWidget(l)
	return l
}

// SetRowHeight sets the height of every row, points at normal size; 58 is the
// default and fits a name with a line under it, 44 one line.
func (l *RowList) SetRowHeight(points float32) {
	if l.height != points {
		l.height = points
		l.Refresh()
	}
}

// SetHeight makes the list want that height, points at normal size, however many rows
// it has.
func (l *RowList) SetHeight(points float32) { l.whole = points }

// SetRows shows those rows. The chosen row stays chosen by its ID when it is
// still there; OnChosen is not told.
func (l *RowList) SetRows(rows []table.Row) {
	id := ""
	if row, ok := l.Chosen(); ok {
		id = row.ID
	}
	l.chosen = -1
	for i, row := range rows {
		if id != "" && row.ID == id {
			l.chosen = i
		}
	}
	l.SetSource(len(rows), func(i int) table.Row { return rows[i] })
}

// SetSource shows count rows that rowAt makes when they come into sight. Unlike
// SetRows it looks at none beforehand; a choice beyond the end is dropped.
func (l *RowList) SetSource(count int, rowAt func(int) table.Row) {
	l.count, l.rowAt = count, rowAt
	if l.chosen >= count {
		l.chosen = -1
	}
	l.Refresh()
}

// DrawnRows are the drawn rows, to be clicked on.
func (l *RowList) DrawnRows() []fyne.CanvasObject {
	var rows []fyne.CanvasObject
	for _, r := range l.space.rows {
		if r.Visible() {
			rows = append(rows, r)
		}
	}
	return rows
}

// Len is how many rows there are.
func (l *RowList) Len() int { return l.count }

// Chosen is the chosen row.
func (l *RowList) Chosen() (table.Row, bool) {
	if l.chosen < 0 || l.chosen >= l.count {
		return table.Row{}, false
	}
	return l.rowAt(l.chosen), true
}

// Choose chooses the row with that index, scrolls to it and tells OnChosen.
// An index outside the rows is ignored.
func (l *RowList) Choose(index int) {
	if index < 0 || index >= l.count || index == l.chosen {
		return
	}
	l.Mark(index)
	if l.OnChosen != nil {
		asked(l, func() { l.OnChosen(index, l.rowAt(index)) })
	}
}

// Mark shows a row as chosen without telling anyone, -1 for none.
func (l *RowList) Mark(index int) {
	if index >= l.count {
		return
	}
	l.chosen = index
	l.reveal()
	l.space.update()
}

// reveal scrolls so that the chosen row is in sight.
func (l *RowList) reveal() {
	if l.chosen < 0 {
		return
	}
	top, h, view := float32(l.chosen)*l.step(), l.step(), l.scroll.Size().Height
	if l.unseen = view < h; l.unseen {
		return
	}
	offset := l.scroll.Offset.Y
	if top < offset {
		offset = top
	} else if top+h > offset+view {
		rows := math.Ceil(float64((top + h - view) / h)) // the row under the header stays whole
		offset = min(float32(rows)*h, max(0, l.space.MinSize().Height-view))
	}
	if offset != l.scroll.Offset.Y {
		l.scroll.ScrollToOffset(fyne.NewPos(0, offset))
	}
}

// RowsInSight is how many whole rows can be seen without scrolling.
func (l *RowList) RowsInSight() int {
	return min(l.count, int((l.scroll.Size().Height+0.5)/l.step()))
}

// step is the height of a row as drawn.
func (l *RowList) step() float32 { return Px(l.height) }

// hasHeader reports whether any column has a title.
func (l *RowList) hasHeader() bool {
	for _, c := range l.columns {
		if c.Title != "" {
			return true
		}
	}
	return false
}

func (l *RowList) headerHeight() float32 {
	if !l.hasHeader() {
		return 0
	}
	return Px(34)
}

// HeightFor is the height at which every row is in sight, or that of SetHeight.
func (l *RowList) HeightFor(float32) float32 {
	if l.whole > 0 {
		return Px(l.whole)
	}
	return l.headerHeight() + float32(l.count)*l.step() + 2
}

func (l *RowList) stretches() {}

// FocusGained marks the chosen row with a ring, or chooses the first one.
func (l *RowList) FocusGained() {
	l.focused = true
	if l.chosen < 0 {
		l.Choose(0)
	}
	l.space.update()
	if l.OnTaken != nil {
		l.OnTaken()
	}
}

// FocusLost takes the ring away.
func (l *RowList) FocusLost() {
	l.focused = false
	l.space.update()
}

// AcceptsTab reports whether Tab waits.
func (l *RowList) AcceptsTab() bool { return waits(l) }

// TypedRune hands letters on to the window.
func (l *RowList) TypedRune(r rune) {
	if !kept(l, Typed{Rune: r}) {
		passRune(l, r)
	}
}

// TypedShortcut hands shortcuts on to the window.
func (l *RowList) TypedShortcut(s fyne.Shortcut) { passShortcut(l, s) }

// TypedKey moves the choice.
func (l *RowList) TypedKey(key *fyne.KeyEvent) {
	if kept(l, Typed{Key: key}) {
		return
	}
	page := max(1, int(l.scroll.Size().Height/l.step())-1)
	switch key.Name {
	case fyne.KeyDown:
		l.Choose(min(l.chosen+1, l.count-1))
	case fyne.KeyUp:
		if l.chosen <= 0 {
			passKey(l, key)
			return
		}
		l.Choose(l.chosen - 1)
	case fyne.KeyPageDown:
		l.Choose(min(l.chosen+page, l.count-1))
	case fyne.KeyPageUp:
		l.Choose(max(l.chosen-page, 0))
	case fyne.KeyHome:
		l.Choose(0)
	case fyne.KeyEnd:
		l.Choose(l.count - 1)
	case fyne.KeyReturn, fyne.KeyEnter:
		l.open(key)
	default:
		passKey(l, key)
	}
}

// open tells that the chosen row was opened; without a listener Enter goes on to
// the window, where a button may wait for it.
func (l *RowList) open(key *fyne.KeyEvent) {
	row, ok := l.Chosen()
	if !ok || l.OnOpened == nil {
		passKey(l, key)
		return
	}
	asked(l, func() { l.OnOpened(l.chosen, row) })
}

// doubleTap is how soon a second tap opens a row. Fyne would tell a double tap apart by
// itself, and keep every single one back for as long.
const doubleTap = 500 * time.Millisecond

// tapped chooses a row and takes the focus; a second tap at once opens it.
func (l *RowList) tapped(index int) {
	again, once, before := index == l.chosen, l.tappedOnce, l.tappedAt
	l.tappedOnce, l.tappedAt = true, clockOf(l)
	l.take(index)
	if l.OnTapped != nil {
		l.OnTapped(index, l.rowAt(index))
	}
	switch {
	case !again:
	case l.OnTappedAgain != nil:
		l.OnTappedAgain()
	case once && l.tappedAt.Sub(before) <= doubleTap:
		l.tappedOnce = false
		l.open(&fyne.KeyEvent{Name: fyne.KeyReturn})
	}
}

// offered chooses a row and lists what can be done with it.
func (l *RowList) offered(index int) {
	l.take(index)
	offer(l)
}

// take chooses a row for a person, with the focus.
func (l *RowList) take(index int) {
	l.Choose(index) // before the focus, which would choose the first row
	if c := canvasOf(l); c != nil {
		c.Focus(l)
	}
}

// CreateRenderer draws the list.
func (l *RowList) CreateRenderer() fyne.WidgetRenderer {
	box, line, head := newBox(), newBox(), newRowView(l)
	head.header = true
	r := &drawn{objects: []fyne.CanvasObject{box, l.scroll, head, line}}
	r.min = func() fyne.Size {
		return fyne.NewSize(Px(240), l.headerHeight()+l.step()*float32(min(max(l.count, 1), 2))+2)
	}
	r.layout = func(size fyne.Size) {
		head.Hidden, line.Hidden = !l.hasHeader(), !l.hasHeader()
		h := l.headerHeight()
		place(box, 0, 0, size.Width, min(size.Height, l.HeightFor(size.Width)))
		place(head, 1, 0, size.Width-2, h)
		place(line, 0, h, size.Width, 1)
		place(l.scroll, 1, h+1, size.Width-2, l.view(size.Height-h-2))
		if l.unseen || l.laid != l.step() {
			l.reveal()
		}
		l.laid = l.step()
		l.space.update()
	}
	r.refresh = func() {
		setBox(box, ColorPanel, ColorLine, 1, radius)
		setBox(line, ColorLine, "", 0, 0)
		head.show(-1, l.headerRow())
		l.scroll.Refresh()
		l.space.update()
	}
	return r.ready(l)
}

// view is how high the rows in sight are in that height: all of them where only rounding
// takes a part of the last one away, so that nothing scrolls by less than a point.
func (l *RowList) view(height float32) float32 {
	if all := float32(l.count) * l.step(); all > height && all-height < 1 {
		return all
	}
	return max(0, height)
}

// headerRow is the column titles as a row.
func (l *RowList) headerRow() table.Row {
	row := table.Row{}
	for _, c := range l.columns {
		row.Cells = append(row.Cells, table.T(c.Title))
	}
	return row
}
