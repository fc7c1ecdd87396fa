package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"stowright/app/card"
	"stowright/app/notice"
)

// Facts is a table of facts that hides nothing: names at the left, what each fact
// is with its mark, and where it is known from, all wrapped and none cut. The rows
// of a widget.Table have a height from outside, and do not grow with text that
// wraps; widget.Form has no third column.
type Facts struct {
	widget.BaseWidget
	body *fyne.Container
}

// NewFacts is a table of those facts. Put it into a Scroller or Rows.
func NewFacts(facts ...card.Fact) *Facts {
	f := &Facts{body: container.New(&factsLayout{})}
	f.ExtendBaseWidget(f)
	f.SetFacts(facts)
	return f
}

// HeightFor is how high the table has to be at that width.
func (f *Facts) HeightFor(width float32) float32 { return heightFor(f.body, width) }

// CreateRenderer draws the table.
func (f *Facts) CreateRenderer() fyne.WidgetRenderer {
	r := &drawn{objects: []fyne.CanvasObject{f.body}}
	r.min = func() fyne.Size { return f.body.MinSize() }
	r.layout = func(size fyne.Size) { place(f.body, 0, 0, size.Width, size.Height) }
	r.refresh = func() { f.body.Refresh() }
	return r.ready(f)
}

// SetFacts replaces the table.
func (f *Facts) SetFacts(facts []card.Fact) {
	f.body.Objects = nil
	for _, fact := range facts {
		mark := newParagraph("", fact.Mark, roleFoot(), factColor(fact.Tone))
		mark.Hidden = fact.Mark == ""
		source := NewFoot(fact.Source)
		source.Hidden = fact.Source == ""
		f.body.Objects = append(f.body.Objects, NewQuiet(fact.Name), newParagraph("", fact.Text, roleBold(), ColorInk), mark, source, NewRule())
	}
	f.Refresh()
}

func factColor(t notice.Tone) fyne.ThemeColorName {
	switch t {
	case notice.Warn:
		return ColorWarn
	case notice.Stop:
		return ColorStop
	}
	return ColorQuiet
}

// The table's measures, in points at normal size.
const (
	factParts   = 5   // objects of one fact
	factName    = 130 // width of the names
	factGap     = 12
	factEdge    = 6   // above and below a fact
	factsBeside = 620 // from this width on the source stands beside, else below
)

// factsLayout sets each fact on lines of its own.
type factsLayout struct{ last float32 }

// columns are where names, words and sources begin and how wide they are. Beside
// says that sources have a column of their own.
func (l *factsLayout) columns(width float32) (name, words, source float32, beside bool) {
	name = min(Px(factName), width/3)
	rest := width - name - Px(factGap)
	if width < Px(factsBeside) {
		return name, rest, rest, false
	}
	words = rest * 0.46
	return name, words, rest - words - Px(factGap), true
}

// row places one fact at a height, or only measures it, and returns its height.
func (l *factsLayout) row(o []fyne.CanvasObject, width, y float32, move bool) float32 {
	name, words, source, beside := l.columns(width)
	set := func(o fyne.CanvasObject, x, y, w float32) float32 {
		if !o.Visible() {
			return 0
		}
		h := heightFor(o, w)
		if move {
			place(o, x, y, w, h)
		}
		return h
	}
	top, x := y+Px(factEdge), name+Px(factGap)
	left := set(o[0], 0, top, name)
	middle := set(o[1], x, top, words)
	middle += set(o[2], x, top+middle, words)
	right := float32(0)
	if beside {
		right = set(o[3], x+words+Px(factGap), top+Px(2), source) + Px(2)
	} else {
		middle += set(o[3], x, top+middle, source)
	}
	h := max(left, middle, right) + 2*Px(factEdge)
	if move {
		place(o[4], 0, y+h-1, width, 1)
	}
	return h
}

func (l *factsLayout) heightFor(objects []fyne.CanvasObject, width float32) float32 {
	var y float32
	for i := 0; i+factParts <= len(objects); i += factParts {
		y += l.row(objects[i:i+factParts], width, y, false)
	}
	return y
}

// MinSize is as narrow as a few words in two columns.
func (l *factsLayout) MinSize(objects []fyne.CanvasObject) fyne.Size {
	least := Px(240)
	return fyne.NewSize(least, l.heightFor(objects, max(l.last, least)))
}

// Layout places all facts.
func (l *factsLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	l.last = size.Width
	var y float32
	for i := 0; i+factParts <= len(objects); i += factParts {
		y += l.row(objects[i:i+factParts], size.Width, y, true)
	}
}
