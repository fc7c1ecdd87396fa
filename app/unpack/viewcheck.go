package unpack

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"stowright/app"
	"stowright/app/look"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/stockdialog"
	"stowright/app/table"
	"stowright/store"
	"stowright/store/measure"
)

// checkView is the check-off: crates and bags, the lines, the line in hand.
type checkView struct {
	session *session.Session
	model   *Model
	host    app.Host

	name, note *look.Paragraph
	bar        *look.ProgressBar
	bags       *look.RowList
	lines      *look.RowList
	hand       *handView
	side       *sideView
	body       *fyne.Container // the check-off itself
	root       *fyne.Container // body, or what to do first
	hasty      app.FirstKey    // records nothing of a line that nobody took in hand
}

func newCheckView(s *session.Session, host app.Host, about string) *checkView {
	v := &checkView{session: s, host: host, name: look.NewTitle(""), note: look.NewQuiet(""), bar: look.NewProgressBar("")}
	v.model = NewModel(s, about, v.render)
	if about != "" {
		v.hasty.Taken()
	}
	v.bags, v.lines = look.NewRowList(BagColumns()...), look.NewRowList(LineColumns()...)
	v.bags.SetRowHeight(bagRows)
	v.lines.SetRowHeight(lineRows)
	v.bags.OnChosen = func(i int, _ table.Row) { v.model.ChooseBag(i) }
	v.lines.OnChosen = func(i int, _ table.Row) { v.hasty.Taken(); v.model.ChooseLine(i) }
	v.side = newSideView(v.model, host)
	v.hand = newHandView(v.model, v.side.photograph, func() { v.weigh(s) }, v.askMore)
	v.body = container.New(&checkLayout{v: v}, v.name, v.note, v.bar, v.bags, v.lines, v.hand.panel)
	v.root = container.NewStack()
	v.model.Load()
	return v
}

func (v *checkView) object() fyne.CanvasObject { return v.root }
func (v *checkView) title() string             { return "Unpack" }
func (v *checkView) changed()                  { v.model.Changed() }

// key does what a key is for. The keys of the other parts are on buttons of the side,
// which a narrow window does not always show.
func (v *checkView) key(key string) bool {
	switch s := v.model.State(); {
	case s.Prompt != nil || s.Current.Number == 0: // a question takes the keys, and without a line there is nothing to do
	case key == moreKey:
		v.askMore()
		return true
	case key == stockdialog.BlindKey:
		v.recount()
		return true
	}
	if v.hasty.Stops(key, v.model.Hasty(key), v.host) {
		return true
	}
	if v.model.Key(key) {
		v.hasty.Taken()
		return true
	}
	part, ok := v.model.Part(key)
	if ok {
		v.host.Go(part)
	}
	return ok
}

// render shows a state.
func (v *checkView) render(s State) {
	switch {
	case s.Loading:
		v.set(look.NewEmptyState("Unpack", "Reading the packing list."))
		return
	case s.Nothing != "":
		v.host.HideCard()
		v.set(v.first(s))
		return
	}
	v.name.SetText(s.Title)
	v.note.SetText(s.Note)
	v.bar.Set(s.Progress.Words, segments(s.Progress.Shares)...)
	v.bags.SetRows(s.Bags)
	v.bags.Mark(s.Bag)
	v.lines.SetRows(s.Lines)
	v.lines.Mark(s.Line)
	v.side.render(s)
	v.hand.render(s, v.host.SideOver())
	v.set(v.body)
	v.body.Refresh()
}

// weigh asks for the weights of the line in hand.
func (v *checkView) weigh(s *session.Session) {
	l, ok := v.model.Weighable()
	if !ok {
		return
	}
	stockdialog.AskWeighing(s, v.host, l.Designation, l.Listed, func(m measure.Weighing, done func(error)) {
		v.model.Weighed(l, m)
		done(nil)
	})
}

// moreKey lists what is done more seldom with the line in hand.
const moreKey = "M"

func (v *checkView) askMore() {
	c := v.model.State().Current
	app.AskAction(v.host, fmt.Sprintf("More for line %d, %s", c.Number, c.Designation), c.More, func(id string) {
		v.hasty.Taken() // it was chosen from a list that names the line
		v.key(id)
	})
}

// recount has another hand count the line in hand.
func (v *checkView) recount() {
	v.model.Recount(func(l store.Line, heap session.Heap) { stockdialog.AskLineBlind(v.session, v.host, heap, l) })
}

// set shows an object in place of the whole page.
func (v *checkView) set(o fyne.CanvasObject) {
	if len(v.root.Objects) == 1 && v.root.Objects[0] == o {
		return
	}
	v.root.Objects = []fyne.CanvasObject{o}
	v.root.Refresh()
}

// first says what to do before anything can be checked off.
func (v *checkView) first(s State) fyne.CanvasObject {
	next, label, key := func() { v.host.Go(routes.Route{Screen: routes.Unpack, About: s.Shipment, Part: s.NextPart}) }, "Bring a packing list in", "I"
	if s.NextPart == ArrivalPart {
		label, key = "Which crates came", "R"
	}
	if s.Error != "" {
		return look.NewEmptyState("The packing list cannot be shown", s.Error)
	}
	actions := []*look.KeyButton{look.NewPrimary(label, key, next)}
	if v.model.data.next != "" {
		actions = append(actions, look.NewKeyButton("Other delivery", "O", func() { v.model.Key("O") }))
	}
	return look.NewEmptyState(s.Nothing, s.Next, actions...)
}

func segments(shares []Share) []look.Segment {
	var out []look.Segment
	for _, s := range shares {
		if s.Lines > 0 {
			out = append(out, look.Segment{Share: float64(s.Lines), Tone: s.Tone, Count: s.Lines})
		}
	}
	return out
}

// checkLayout gives the lists what the heading and the line in hand leave.
type checkLayout struct {
	v    *checkView
	room float32 // of the lists in the last layout
}

// Measures of the check-off, in points at normal size.
const (
	bagsWidth  = 192
	handHeight = 196 // at least, so that the lists stand still
	columnGap  = 12
	leastLines = 90 // the header and one line
	lineRows   = 52
	bagRows    = 48
	lowRows    = 44  // both, in a low window
	low        = 520 // below this height the hand gives way to the list, as in a window of 800 in the larger size
	lowest     = 380 // and below this one all but its keys, as in one of 640
)

// lowness is how much of the line in hand gives way in a height: nothing, some, most.
func lowness(height float32) int {
	switch {
	case height < look.Px(lowest):
		return 2
	case height < look.Px(low):
		return 1
	}
	return 0
}

// MinSize is small: the lists scroll.
func (l *checkLayout) MinSize([]fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(look.Px(420), look.Px(380))
}

// Layout places the parts. Where the side lies over the work, its room is left free;
// the crates and bags, which Left and Right choose as well, and the note give way. A
// question that needs all the room takes that of the lists too.
func (l *checkLayout) Layout(_ []fyne.CanvasObject, size fyne.Size) {
	v, gap := l.v, look.Px(columnGap)
	over, low := v.host.SideOver(), lowness(size.Height)
	if over {
		size.Width = max(look.Px(300), size.Width-look.Px(look.CardWidth)+look.Px(8))
	}
	v.note.Hidden = over || low > 0
	v.hand.tighten(over)
	v.hand.see()
	v.hand.lower(low)
	top := l.heading(size.Width) + gap
	handH := v.hand.panel.HeightFor(size.Width)
	rows := float32(lowRows)
	if low == 0 {
		handH, rows = max(handH, look.Px(handHeight)), lineRows
	}
	v.lines.SetRowHeight(rows)
	v.bags.SetRowHeight(min(rows, bagRows))
	room := size.Height - top - gap - handH
	v.lines.Hidden = room < look.Px(leastLines)
	v.bags.Hidden = over || v.lines.Hidden
	if v.lines.Hidden {
		put(v.hand.panel, 0, top, size.Width, size.Height-top)
		return
	}
	left := min(look.Px(bagsWidth), size.Width/3)
	put(v.bags, 0, top, left, room)
	if over {
		left = -gap
	}
	put(v.lines, left+gap, top, size.Width-left-gap, room)
	put(v.hand.panel, 0, top+room+gap, size.Width, handH)
	if l.room != room { // a list that becomes lower brings its row into sight again
		l.room = room
		v.bags.Mark(v.model.State().Bag)
		v.lines.Mark(v.model.State().Line)
	}
}

// heading places the title and the progress, and returns how high they are.
func (l *checkLayout) heading(width float32) float32 {
	v := l.v
	barWidth := min(look.Px(260), width/3)
	w := width - barWidth - look.Px(columnGap)
	high, barH := v.name.HeightFor(w), v.bar.MinSize().Height
	put(v.name, 0, 0, w, high)
	if v.note.Visible() {
		noteH := v.note.HeightFor(w)
		put(v.note, 0, high+look.Px(2), w, noteH)
		high += look.Px(2) + noteH
	}
	high = max(high, barH)
	put(v.bar, width-barWidth, max(0, high-barH-look.Px(4)), barWidth, barH)
	return high
}
