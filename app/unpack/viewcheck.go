package unpack

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"stowright/app"
	"stowright/app/card"
	"stowright/app/look"
	"stowright/app/notice"
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
	clocks     *fyne.Container // by when claims are to be sent
	links      *fyne.Container // what can be done with the delivery
	bar        *look.ProgressBar
	bags       *look.RowList
	lines      *look.RowList
	hand       *handView       // at the right
	next       *nextView       // under the lists
	sided      bool            // something stands at the right
	asking     bool            // and it is a question
	head       headline        // what clocks and links were made of
	body       *fyne.Container // the check-off itself
	root       *fyne.Container // body, or what to do first
	hasty      app.FirstKey    // records nothing of a line that nobody took in hand
}

func newCheckView(s *session.Session, host app.Host, about string) *checkView {
	v := &checkView{session: s, host: host, name: look.NewTitle(""), note: look.NewQuiet(""), clocks: look.Line(), links: look.Line(), bar: look.NewProgressBar("")}
	v.model = NewModel(s, about, v.render)
	if about != "" {
		v.hasty.Taken()
	}
	v.bags, v.lines = look.NewRowList(BagColumns()...), look.NewRowList(LineColumns()...)
	v.bags.SetRowHeight(bagRows)
	v.lines.SetRowHeight(lineRows)
	v.bags.OnChosen = func(i int, _ table.Row) { v.model.ChooseBag(i) }
	v.lines.OnChosen = func(i int, _ table.Row) { v.hasty.Taken(); v.model.ChooseLine(i) }
	v.next = newNextView(v.model)
	v.hand = newHandView(v.model, func() { v.goTo("P") }, v.weigh, v.askMore)
	v.body = container.New(&checkLayout{v: v}, v.name, v.links, v.note, v.clocks, v.bar, v.bags, v.lines, v.next.panel)
	v.root = container.NewStack()
	v.model.Load()
	return v
}

func (v *checkView) object() fyne.CanvasObject { return v.root }
func (v *checkView) title() string             { return "Unpack" }
func (v *checkView) changed()                  { v.model.Changed() }

// key does what a key is for, whether or not a narrow window shows the button that has it.
func (v *checkView) key(key string) bool {
	switch s := v.model.State(); {
	case s.Prompt != nil || s.Current.Number == 0: // a question takes the keys, and without a line there is nothing to do
	case key == moreKey:
		v.askMore()
		return true
	case key == stockdialog.BlindKey:
		v.recount()
		return true
	case key == stockdialog.WeighKey && s.Current.Weigh:
		v.weigh()
		return true
	case key == lotKey:
		v.model.Lot(func(l store.Lot) { stockdialog.AskLot(v.session, v.host, l) })
		return true
	}
	if v.hasty.Stops(key, v.model.Hasty(key), v.host) {
		return true
	}
	if v.model.Key(key) {
		v.hasty.Taken()
		return true
	}
	return v.goTo(key)
}

// goTo goes where a key leads to, and reports whether it leads anywhere.
func (v *checkView) goTo(key string) bool {
	to, ok := v.model.Part(key)
	if ok {
		v.host.Go(to)
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
		v.sided = false
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
	v.setHead(s)
	v.next.render(s)
	v.hand.render(s)
	if asks := s.Prompt != nil; !v.sided || asks != v.asking { // a question opens the side of a narrow window
		v.sided, v.asking = true, asks
		v.host.ShowSide(v.hand.root)
	}
	v.hand.prompt.begun(s.Prompt)
	v.set(v.body)
	v.body.Refresh()
}

// headline is what the head of the page says of the delivery.
type headline struct {
	Clocks  []notice.Notice
	NoClock string
	Crates  string
	Others  bool
}

// setHead makes clocks and links of a delivery anew, where they differ.
func (v *checkView) setHead(s State) {
	to := func(part string) func() {
		return func() { v.host.Go(routes.Route{Screen: routes.Unpack, About: v.model.State().Shipment, Part: part}) }
	}
	head := headline{s.Side.Clocks, s.Side.NoClock, s.Side.Crates, s.Side.Others}
	if reflect.DeepEqual(head, v.head) && len(v.links.Objects) > 0 {
		return
	}
	v.head = head
	v.clocks.Objects, v.links.Objects = nil, nil
	if len(head.Clocks) == 0 {
		v.clocks.Add(look.NewQuiet(head.NoClock))
	}
	for _, c := range head.Clocks {
		v.clocks.Add(look.NewStateMark(notice.Mark{Word: strings.TrimSpace(c.Lead + " " + c.Text), Tone: c.Tone}))
	}
	v.links.Add(look.NewLink("Claim", "C", to(ClaimPart)))
	if head.Crates != "" {
		v.links.Add(look.NewLink(head.Crates+" came", "R", to(ArrivalPart)))
	}
	v.links.Add(look.NewLink("New list", "I", func() { v.host.Go(routes.Route{Screen: routes.Unpack, Part: ListPart}) }))
	if head.Others {
		v.links.Add(look.NewLink("Other delivery", "O", func() { v.model.Key("O") }))
	}
}

// weigh asks for the weights of the line in hand.
func (v *checkView) weigh() {
	l, ok := v.model.Weighable()
	if !ok {
		return
	}
	stockdialog.AskWeighing(v.session, v.host, l.Designation, l.Listed, func(m measure.Weighing, done func(error)) {
		v.model.Weighed(l, m)
		done(nil)
	})
}

// moreKey lists what is done more seldom with the line in hand.
const moreKey = "M"

func (v *checkView) askMore() {
	s := v.model.State()
	c := s.Current
	all := append(slices.Clone(c.More),
		card.Action{ID: "K", Key: "K", Label: "Check-off sheet of its crate"},
		card.Action{ID: "F3", Key: "F3", Label: s.Side.Crate, Off: s.Side.Crate == ""})
	app.AskAction(v.host, fmt.Sprintf("More for line %d, %s", c.Number, c.Designation), all, func(id string) {
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

// checkLayout gives the lists what the heading and what stands under them leave.
type checkLayout struct {
	v    *checkView
	room float32 // of the lists in the last layout
}

// Measures of the check-off, in points at normal size.
const (
	bagsWidth  = 192
	nextHeight = 176 // at least, so that the lists stand still
	columnGap  = 12
	barWidth   = 260
	lineRows   = 52
	bagRows    = 48
	lowRows    = 44  // both, in a low window
	low        = 520 // below this height only what is asked stands under the lists
	slim       = 600 // below this width the lines have no bags beside them, which Left and Right choose as well
)

// MinSize is small: the lists scroll.
func (l *checkLayout) MinSize([]fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(look.Px(420), look.Px(300))
}

// Layout places the parts.
func (l *checkLayout) Layout(_ []fyne.CanvasObject, size fyne.Size) {
	v, gap := l.v, look.Px(columnGap)
	slim, low := size.Width < look.Px(slim), size.Height < look.Px(low)
	v.next.tighten(slim || low)
	top := l.heading(size.Width, slim || low) + gap
	rows, nextH := float32(lineRows), float32(0)
	if low {
		rows = lowRows
	}
	if v.next.shows() {
		nextH = v.next.panel.HeightFor(size.Width)
		if !slim && !low {
			nextH = max(nextH, look.Px(nextHeight))
		}
		put(v.next.panel, 0, size.Height-nextH, size.Width, nextH)
		nextH += gap
	}
	v.next.panel.Hidden = nextH == 0
	v.lines.SetRowHeight(rows)
	v.bags.SetRowHeight(min(rows, bagRows))
	room := size.Height - top - nextH
	v.bags.Hidden = slim
	left := min(look.Px(bagsWidth), size.Width/3)
	put(v.bags, 0, top, left, room)
	if slim {
		left = -gap
	}
	put(v.lines, left+gap, top, size.Width-left-gap, room)
	if l.room != room { // a list that becomes lower brings its row into sight again
		l.room = room
		v.bags.Mark(v.model.State().Bag)
		v.lines.Mark(v.model.State().Line)
	}
}

// heading places the title with what can be done, the note with the progress, and the clocks;
// it returns how high they are. Where room lacks, note and clocks give way.
func (l *checkLayout) heading(width float32, tight bool) float32 {
	v, gap := l.v, look.Px(columnGap)
	v.note.Hidden, v.clocks.Hidden = tight, tight
	bar := min(look.Px(barWidth), max(width*0.4, width-look.WidthOf(v.name)-gap))
	barH, beside := v.bar.MinSize().Height, width-bar-gap
	if tight {
		nameH := v.name.HeightFor(beside)
		high := max(nameH, barH)
		put(v.name, 0, (high-nameH)/2, beside, nameH)
		put(v.bar, width-bar, (high-barH)/2, bar, barH)
		linksH := look.HeightFor(v.links, width)
		put(v.links, 0, high, width, linksH)
		return high + linksH
	}
	links := min(look.WidthOf(v.links), width*0.7)
	left := width - links - gap
	linksH := look.HeightFor(v.links, links)
	high := max(v.name.HeightFor(left), linksH)
	put(v.name, 0, 0, left, v.name.HeightFor(left))
	put(v.links, width-links, 0, links, linksH)
	noteH := v.note.HeightFor(beside)
	put(v.note, 0, high, beside, noteH)
	put(v.bar, width-bar, high, bar, barH)
	high += max(noteH, barH) + look.Px(6)
	clocksH := look.HeightFor(v.clocks, width)
	put(v.clocks, 0, high, width, clocksH)
	return high + clocksH
}
