package look

import (
	"image"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"

	"stowright/app/card"
	"stowright/app/notice"
)

// Tiles stand in as many columns as there is room for, and tell which was tapped.
func TestPhotoTiles(t *testing.T) {
	start(t, Theme{})
	tiles := NewPhotoTiles(130)
	if h := tiles.HeightFor(400); h != 0 {
		t.Errorf("no photograph: %v high", h)
	}
	var list []card.Photo
	for _, name := range []string{"P-1", "P-2", "P-3", "P-4"} {
		list = append(list, card.Photo{Name: name, When: "14 Mar", Caption: "fin " + name, Picture: image.NewRGBA(image.Rect(0, 0, 4, 3))})
	}
	tiles.SetPhotos(list, 3)
	for width, columns := range map[float32]int{100: 1, 271: 1, 272: 2, 413: 2, 414: 3, 900: 6} {
		tiles.Resize(fyne.NewSize(width, 900))
		if got := tiles.Columns(); got != columns {
			t.Errorf("%v wide: %d columns, want %d", width, got, columns)
		}
	}
	objects := sized(tiles, 272, 900)
	first, fourth := objects[0], objects[3]
	if len(objects) != 4 || first.Position() != fyne.NewPos(0, 0) || fourth.Position() != fyne.NewPos(142, first.Size().Height+12) {
		t.Errorf("%d tiles, the first at %v, the fourth at %v", len(objects), first.Position(), fourth.Position())
	}
	if want := 2*first.Size().Height + 12; tiles.HeightFor(272) != want {
		t.Errorf("two lines: %v high, want %v", tiles.HeightFor(272), want)
	}
	if top, height := tiles.ChosenAt(); top != fourth.Position().Y || height != fourth.Size().Height {
		t.Errorf("the chosen one is at %v, %v high; want %v and %v", top, height, fourth.Position().Y, fourth.Size().Height)
	}
	for i, o := range objects {
		parts := test.WidgetRenderer(o.(fyne.Widget)).Objects()
		if ring := parts[len(parts)-1].Visible(); ring != (i == 3) {
			t.Errorf("tile %d: ring %v", i, ring)
		}
		if got := texts(o); !slices.Equal(got, []string{list[i].Name, "14 Mar", list[i].Caption}) {
			t.Errorf("tile %d says %q", i, got)
		}
		if parts[1].(*canvas.Image).Image != list[i].Picture {
			t.Errorf("tile %d has another picture", i)
		}
	}
	tile := objects[1].(*photoTile)
	if tile.Tapped(nil); tile.Cursor() != desktop.DefaultCursor {
		t.Error("a hand over what does nothing")
	}
	tapped := -1
	tiles.OnTapped = func(i int) { tapped = i }
	if test.Tap(tile); tapped != 1 || tile.Cursor() != desktop.PointerCursor {
		t.Errorf("tapped %d, want 1 and a hand over it", tapped)
	}
	tiles.SetPhotos(list[:1], -1)
	if got := test.WidgetRenderer(tiles).Objects(); len(got) != 1 {
		t.Errorf("of one photograph %d tiles are shown", len(got))
	}
}

// Actions that have no button, and photographs, are reached from the card.
func TestCardLeadsOn(t *testing.T) {
	start(t, Theme{})
	var got []string
	c := card.Card{Designation: "AN3-5A", Notes: []string{"below the minimum", "photographed twice"}, Photographed: "item AN3-5A", Photos: []card.Photo{{Name: "P-1"}}}
	for _, id := range []string{"a", "b", "c", "d", "e", "f"} {
		c.Actions = append(c.Actions, card.Action{ID: id, Label: id, Key: strings.ToUpper(id)})
	}
	v := NewCardView(c)
	v.OnAction = func(id string) { got = append(got, id) }
	v.Resize(fyne.NewSize(CardWidth, 700))
	PressKey(v, MoreKey)
	PressKey(v, "F3")
	if want := []string{MoreID, PhotosID}; !slices.Equal(got, want) {
		t.Errorf("F7 and F3: %q, want %q", got, want)
	}
	if written(v.actions.Objects[0].(fyne.Widget), "a") == nil || len(v.actions.Objects) > 6 {
		t.Errorf("%d buttons", len(v.actions.Objects))
	}
	all := texts(v)
	for _, want := range []string{"below the minimum", "photographed twice", "Photographs", "P-1"} {
		if !slices.Contains(all, want) {
			t.Errorf("%q is not among %q", want, all)
		}
	}
	c.Photos, c.Actions = nil, nil
	v.SetCard(c)
	if all = texts(v); !slices.Contains(all, "Photograph it") || PressKey(v, MoreKey) || v.actions.Visible() {
		t.Errorf("without photographs and actions: %q", all)
	}
}

// Buttons of a card stand in two columns; a last one alone has the whole width.
func TestPair(t *testing.T) {
	start(t, Theme{})
	a, b, c := NewKeyButton("A", "A", nil), NewKeyButton("B", "B", nil), NewKeyButton("C", "C", nil)
	p := Pair(a, b, c)
	p.Resize(fyne.NewSize(308, 200))
	for i, want := range []struct{ x, y, w float32 }{{0, 0, 150}, {158, 0, 150}, {0, 54, 308}} {
		o := []*KeyButton{a, b, c}[i]
		if o.Position() != fyne.NewPos(want.x, want.y) || o.Size() != fyne.NewSize(want.w, buttonHeight) {
			t.Errorf("button %d: %v at %v, want %+v", i, o.Size(), o.Position(), want)
		}
	}
	if h := HeightFor(p, 308); h != 2*buttonHeight+8 {
		t.Errorf("three buttons: %v high", h)
	}
	if h := HeightFor(Pair(), 308); h != 0 {
		t.Errorf("no button: %v high", h)
	}
}

// Amounts and tables of figures follow what they are given.
func TestFiguresAreReplaced(t *testing.T) {
	start(t, Theme{Mode: Light})
	a := NewAmount("28", "pieces", "counted")
	full := a.HeightFor(300)
	sized(a, 300, 60)
	a.Set("7", "ft", "weighed")
	if got := texts(a); !slices.Equal(got, []string{"7", "ft", "weighed"}) {
		t.Errorf("says %q", got)
	}
	if known := a.known; known.Position().Y > full/2+10 || known.Position().X < 200 {
		t.Errorf("with room the words stand at %v, want them at the right of the figure", known.Position())
	}
	if narrow := a.HeightFor(60); narrow <= full {
		t.Errorf("narrow: %v high, wide %v; want the words below", narrow, full)
	}
	a.Set("", "", "")
	if h := a.HeightFor(300); h != 0 {
		t.Errorf("nothing: %v high", h)
	}
	tl := NewTallies([]card.Tally{{Words: "short", Figure: "2", Tone: notice.Stop}, {Words: "all here", Figure: "40", Tone: notice.OK}})
	sized(tl, 200, 62)
	for says, ink := range map[string]fyne.ThemeColorName{"2": ColorStop, "short": ColorStop, "40": ColorInk} {
		if w := written(tl, says); w == nil || w.Color != theme.Color(ink) {
			t.Errorf("%q is not in %q", says, ink)
		}
	}
	figure := written(tl, "40")
	if end := figure.Position().X + figure.MinSize().Width; end < 199.5 || end > 200.5 {
		t.Errorf("a figure ends at %.1f, want the right edge", end)
	}
	tl = NewTallies([]card.Tally{{Words: "over", Figure: "1"}})
	sized(tl, 200, 31)
	if got := texts(tl); !slices.Equal(got, []string{"over", "1"}) || tl.HeightFor(200) != 31 {
		t.Errorf("one row: %q, %v high", got, tl.HeightFor(200))
	}
}

// A fact without a mark or a source takes no room for them.
func TestFactsWithoutASource(t *testing.T) {
	start(t, Theme{})
	whole := card.Fact{Name: "Grip", Text: "5/16", Source: "sheet 3", Mark: "not cross-checked", Tone: notice.Stop}
	f := NewFacts(whole)
	f.Resize(fyne.NewSize(400, 200))
	if got := texts(f); !slices.Contains(got, "sheet 3") || !slices.Contains(got, "not cross-checked") {
		t.Errorf("says %q", got)
	}
	if mark := written(f.body.Objects[2].(fyne.Widget), "not cross-checked"); mark == nil || mark.Color != theme.Color(ColorStop) {
		t.Errorf("the mark is %+v, want it in the colour of its tone", mark)
	}
	high := f.HeightFor(400)
	f.SetFacts([]card.Fact{{Name: "Grip", Text: "5/16"}})
	if low := f.HeightFor(400); low >= high || f.body.Objects[2].Visible() || f.body.Objects[3].Visible() {
		t.Errorf("without them %v high, with them %v", low, high)
	}
}
