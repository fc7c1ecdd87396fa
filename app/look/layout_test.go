package look

import (
	"slices"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"

	"stowright/app/card"
	"stowright/app/drawing"
	"stowright/app/notice"
)

const long = "Twelve of these are short. Look first inside the other parts of crate C1, in the wrong bag, and under the paper at the bottom."

// texts are the texts that a widget draws now, hidden ones left out.
func texts(o fyne.CanvasObject) []string {
	var out []string
	if !o.Visible() {
		return nil
	}
	switch c := o.(type) {
	case *canvas.Text:
		if c.Text != "" {
			out = append(out, c.Text)
		}
	case *fyne.Container:
		for _, child := range c.Objects {
			out = append(out, texts(child)...)
		}
	case fyne.Widget:
		for _, child := range test.WidgetRenderer(c).Objects() {
			out = append(out, texts(child)...)
		}
	}
	return out
}

// bottom is where the lowest text of o ends, from the top of o.
func bottom(o fyne.CanvasObject, y float32) float32 {
	y += o.Position().Y
	var low float32
	switch c := o.(type) {
	case *canvas.Text:
		return y + c.MinSize().Height
	case *fyne.Container:
		for _, child := range c.Objects {
			low = max(low, bottom(child, y))
		}
	case fyne.Widget:
		for _, child := range test.WidgetRenderer(c).Objects() {
			low = max(low, bottom(child, y))
		}
	}
	return low
}

// What holds wrapped text is as high as the text needs at its width: its last
// line ends within it, and no more than its padding above its end.
func TestHeightsHoldWrappedText(t *testing.T) {
	start(t, Theme{Mode: Light})
	for _, row := range []struct {
		name string
		make func() fyne.CanvasObject
		room float32 // below the text: padding
	}{
		{"paragraph", func() fyne.CanvasObject { return NewText(long) }, 1},
		{"rows", func() fyne.CanvasObject { return Rows(8, NewTitle("Title"), NewText(long)) }, 1},
		{"rows under an empty head", func() fyne.CanvasObject { return Rows(8, Rows(2), NewText(long)) }, 1},
		{"inset", func() fyne.CanvasObject { return Inset(10, 12, NewText(long)) }, 13},
		{"panel", func() fyne.CanvasObject { return NewPanel(16, Rows(4, NewFoot(long), NewText(long))) }, 17},
		{"notice", func() fyne.CanvasObject {
			return NewNotice(notice.Notice{Tone: notice.Warn, Lead: "Not AN3-6A:", Text: long})
		}, 12},
		{"line with a button", func() fyne.CanvasObject { return Line(NewText(long), NewKeyButton("Do", "D", nil)) }, 20},
		{"columns", func() fyne.CanvasObject { return Columns(10, NewText(long), NewText(long)) }, 1},
		{"field", func() fyne.CanvasObject { return NewField("Pieces", NewEntry(""), long) }, 1},
		{"amount", func() fyne.CanvasObject { return NewAmount("about 1,680", "pieces", long) }, 1},
		{"empty state", func() fyne.CanvasObject { return NewEmptyState("Nothing yet", long) }, 30},
	} {
		for _, width := range []float32{220, 330, 900} {
			t.Run(row.name, func(t *testing.T) {
				o := row.make()
				h := heightFor(o, width)
				o.Resize(fyne.NewSize(width, h))
				o.Refresh()
				if low := bottom(o, 0); low > h+1.5 || low < h-row.room-6 {
					t.Errorf("%v wide: height %.1f, text ends at %.1f; want it within, %.0f above the end", width, h, low, row.room)
				}
			})
		}
	}
}

// A scroller shows all of its content at its own width, and keeps room for the bar
// only when there is one.
func TestScroller(t *testing.T) {
	start(t, Theme{})
	inside := NewText(long)
	s := NewScroller(Rows(8, inside, NewText(long)))
	s.Resize(fyne.NewSize(300, 1000))
	if got := inside.Size().Width; got != 300 {
		t.Errorf("all in sight: text %v wide, want 300", got)
	}
	s.Resize(fyne.NewSize(300, 60))
	if got := inside.Size().Width; got >= 300-9 {
		t.Errorf("scrolling: text %v wide, want room for the bar", got)
	}
	if whole, got := s.HeightFor(inside.Size().Width), s.scroll.Content.Size().Height; got < whole {
		t.Errorf("scrolling: content %v high, want %v", got, whole)
	}
	s.scroll.ScrollToBottom()
	if s.ToTop(); s.scroll.Offset.Y != 0 {
		t.Errorf("to the top: at %v", s.scroll.Offset.Y)
	}
}

// In a scroller the list of a Fill becomes lower before anything scrolls.
func TestScrollerOfAFill(t *testing.T) {
	start(t, Theme{})
	list, below := NewRowList(nameColumn()), NewText("below")
	list.SetSource(20, blankRow)
	s := NewScroller(Fill(8, list, below))
	s.Resize(fyne.NewSize(300, 400))
	if low := bottom(below, 0); low > 400 || list.Size().Height < 300 || list.Size().Width != 300 {
		t.Errorf("400 high: the list takes %v, what is below it ends at %v", list.Size(), low)
	}
	s.Resize(fyne.NewSize(300, 100))
	if got, least := list.Size().Height, list.MinSize().Height; got > least+1 {
		t.Errorf("100 high: the list takes %v, want %v", got, least)
	}
}

// What is drawn says what it was given, whole.
func TestWidgetsSay(t *testing.T) {
	start(t, Theme{})
	stretched := func(o fyne.CanvasObject, w, h float32) fyne.CanvasObject {
		o.Resize(fyne.NewSize(w, h))
		return o
	}
	progress := NewProgress("Bringing it in", func() {})
	progress.Set("412 of 1,200 rows", 412.0/1200)
	unknown := NewProgress("Reading", func() {})
	unknown.Set("3 codes", -1)
	cabinet := drawing.Blank("A", 1, 3)
	cabinet.Drawers[0] = drawing.Drawer{Name: "A-01", Designation: "AN3-5A", More: 2, Level: 0.5}
	for _, row := range []struct {
		name string
		o    fyne.CanvasObject
		want []string
	}{
		{"button with Enter", stretched(NewPrimary("Stow 12", "Enter", nil), 200, 46), []string{"Stow 12", "↵"}},
		{"button too narrow keeps its word", stretched(NewKeyButton("Mixed bag: split", "X", nil), 90, 46), []string{"Mixed bag: split", "X"}},
		{"pill", stretched(NewPill("Partner", "F9", notice.Quiet, nil), 120, 34), []string{"Partner", "F9"}},
		{"amount", stretched(NewAmount("28", "pieces", "counted"), 300, 40), []string{"28", "pieces", "counted"}},
		{"tallies", stretched(NewTallies([]card.Tally{{Words: "short", Figure: "2"}, {Words: "over", Figure: "1"}}), 200, 62), []string{"short", "2", "over", "1"}},
		{"progress", stretched(progress, 400, 120), []string{"Bringing it in", "412 of 1,200 rows, 34 %", "Stop", "Esc"}},
		{"progress that cannot be stopped", stretched(NewProgress("Copying", nil), 400, 120), []string{"Copying", "starting, 0 %"}},
		{"progress without an end", stretched(unknown, 400, 120), []string{"Reading", "3 codes", "Stop", "Esc"}},
		{"caption", stretched(NewCaption("Shop:", "Type Q"), 200, 20), []string{"Shop:", "Type Q"}},
		{"small cabinet", stretched(NewCabinetMini(cabinet), 200, 30), []string{"01", "02", "03"}},
		{"cabinet", stretched(NewCabinetView(cabinet), 400, 100), []string{"A-01", "AN3-5A", "and 2 more", "A-02", "empty", "A-03", "empty"}},
		{"mark", stretched(NewStateMark(notice.Mark{Word: "4 short", Tone: notice.Stop}), 80, 27), []string{"4 short"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			got := texts(row.o)
			if len(got) != len(row.want) {
				t.Fatalf("says %q, want %q", got, row.want)
			}
			seen := make(map[string]int)
			for i := range got {
				seen[got[i]]++
				seen[row.want[i]]--
			}
			for text, n := range seen {
				if n != 0 {
					t.Errorf("%q: says %q, want %q", text, got, row.want)
				}
			}
		})
	}
}

// The card shows its parts in order, and leaves out what it was not given.
func TestCardParts(t *testing.T) {
	start(t, Theme{})
	cabinet := drawing.Blank("A", 1, 2)
	c := card.Card{
		Designation: "AN3-5A", Title: "Bolt", Quantity: "28", Unit: "pieces", Known: "counted", Place: "Cabinet A", Cabinet: &cabinet,
		Beware: []notice.Notice{{Lead: "Not AN3-6A", Text: "longer"}}, Notes: []string{"below the minimum"},
		Mark: notice.Mark{Word: "all here", Tone: notice.OK}, Tallies: []card.Tally{{Words: "short", Figure: "1"}},
	}
	v := NewCardView(c)
	v.Resize(fyne.NewSize(340, 700))
	order := []string{"AN3-5A", "Bolt", "28", "Cabinet A", "Not AN3-6A", "short", "below the minimum"}
	at := -1
	all := texts(v)
	for _, want := range order {
		found := -1
		for i, text := range all {
			if i > at && text == want {
				found = i
				break
			}
		}
		if found < 0 {
			t.Errorf("%q is not after what comes before it in %q", want, all)
			continue
		}
		at = found
	}
	v.SetCard(card.Card{Designation: "AN3-6A"})
	if got := texts(v); len(got) != 1 || got[0] != "AN3-6A" {
		t.Errorf("a card with a designation alone: says %q", got)
	}
}

// Shares of a bar are its parts, whatever they add up to, with a gap before the next one;
// their counts stand over it with the shapes of their tones.
func TestProgressBarShares(t *testing.T) {
	start(t, Theme{})
	b := NewProgressBar("50 of 66", Segment{Share: 33, Tone: notice.OK, Count: 33}, Segment{Share: 11, Tone: notice.Stop, Count: 11}, Segment{Share: 0}, Segment{Share: 22, Count: 22})
	b.Resize(fyne.NewSize(660, 40))
	var bars []*canvas.Rectangle
	for _, o := range test.WidgetRenderer(b).Objects() {
		if bar, ok := o.(*canvas.Rectangle); ok {
			bars = append(bars, bar)
		}
	}
	for i, want := range []struct{ x, w float32 }{{0, 327}, {330, 107}, {440, 0}, {440, 220}} {
		if x, w := bars[i].Position().X, bars[i].Size().Width; x != want.x || w != want.w {
			t.Errorf("segment %d: at %v, %v wide, want %+v", i, x, w, want)
		}
	}
	if got, want := texts(b), []string{"50 of 66", "33", "11", "22"}; !slices.Equal(got, want) {
		t.Errorf("says %q, want %q", got, want)
	}
	b.Resize(fyne.NewSize(130, 40))
	if got, want := texts(b), []string{"50 of 66", "33"}; !slices.Equal(got, want) {
		t.Errorf("narrow: says %q, want %q", got, want)
	}
	b.Set("none")
	b.Set("nothing to do", Segment{})
}

// Each tone of a bar has a look of its own without its colour: how many pixels of a segment
// are not of its ground differs.
func TestProgressBarIsHatched(t *testing.T) {
	start(t, Theme{Mode: Light})
	marked := map[notice.Tone]int{}
	for _, tone := range []notice.Tone{notice.Quiet, notice.OK, notice.Warn, notice.Stop} {
		b := NewProgressBar("", Segment{Share: 1, Tone: tone})
		c := window(t, b, 200, 12)
		picture := c.Capture()
		ground := picture.At(100, 1)
		for x := 20; x < 180; x++ {
			for y := 2; y < 10; y++ {
				if picture.At(x, y) != ground {
					marked[tone]++
				}
			}
		}
	}
	if marked[notice.Quiet] != 0 || marked[notice.OK] != 0 || marked[notice.Warn] < 200 || marked[notice.Stop] < 200 || marked[notice.Warn] == marked[notice.Stop] {
		t.Errorf("marked pixels by tone: %v", marked)
	}
}

// A front that is low sets its writing smaller instead of over its level.
func TestLowFront(t *testing.T) {
	start(t, Theme{})
	c := drawing.Cabinet{Rows: 1, Cols: 1, Drawers: []drawing.Drawer{{Name: "A-01", Designation: "AN426AD3-3.5", Level: 0.5}}}
	for _, height := range []float32{110, 90, 66} {
		p := NewCabinetView(c)
		p.Resize(fyne.NewSize(90, height))
		objects := test.WidgetRenderer(p).Objects()
		var low, level float32
		for _, o := range objects {
			if text, ok := o.(*canvas.Text); ok && text.Text != "" {
				low = max(low, text.Position().Y+text.MinSize().Height)
			}
			if box, ok := o.(*canvas.Rectangle); ok && box.Size().Height == Px(5) {
				level = box.Position().Y
			}
		}
		if low > level+4 {
			t.Errorf("front %v high: writing ends at %.1f, level at %.1f", height, low, level)
		}
	}
}

// An entry keeps what edits and hands on what does not.
func TestEntryHandsOn(t *testing.T) {
	start(t, Theme{})
	e := NewEntry("")
	c := window(t, e, 300, 50)
	var got []string
	c.SetOnTypedKey(func(k *fyne.KeyEvent) { got = append(got, string(k.Name)) })
	c.Focus(e)
	test.Type(e, "ab")
	press(c, fyne.KeyBackspace, fyne.KeyF2, fyne.KeyReturn, fyne.KeyEscape)
	if e.Text != "a" || len(got) != 3 || got[0] != "F2" || got[1] != "Return" || got[2] != "EscapeFromField" {
		t.Errorf("text %q, handed on %q; want a, and F2, Return, EscapeFromField", e.Text, got)
	}
	if c.Focused() != nil {
		t.Error("Esc: the entry still has the focus")
	}
	submitted := ""
	e.OnSubmitted = func(s string) { submitted = s }
	c.Focus(e)
	press(c, fyne.KeyReturn)
	if submitted != "a" || len(got) != 3 {
		t.Errorf("Enter with a listener: got %q, handed on %q", submitted, got)
	}
}
