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
	"stowright/app/drawing"
	"stowright/app/notice"
	"stowright/app/table"
)

// sized gives an object a size and returns what it draws, in order.
func sized(w fyne.Widget, width, height float32) []fyne.CanvasObject {
	w.Resize(fyne.NewSize(width, height))
	return test.WidgetRenderer(w).Objects()
}

// written is the text that says that, nil where none does.
func written(o fyne.CanvasObject, says string) *canvas.Text {
	for _, t := range inked(o) {
		if t.Text == says {
			return t
		}
	}
	return nil
}

// A button looks the way it can be used: its fill, its ring, its mark and its words.
func TestButtonStates(t *testing.T) {
	start(t, Theme{Mode: Light})
	for _, row := range []struct {
		name          string
		rank          Rank
		do            func(b *KeyButton)
		fill, edge    fyne.ThemeColorName
		ink           fyne.ThemeColorName
		ring, hovered bool
		cursor        desktop.StandardCursor
	}{
		{"secondary", Secondary, func(*KeyButton) {}, ColorPanel, ColorAction, ColorAction, false, false, desktop.PointerCursor},
		{"primary", Primary, func(*KeyButton) {}, ColorAction, ColorAction, ColorOnAction, false, false, desktop.PointerCursor},
		{"link", Link, func(*KeyButton) {}, "", "", ColorAction, false, false, desktop.PointerCursor},
		{"off", Secondary, func(b *KeyButton) { b.SetOff(true) }, ColorPanel, ColorLine, ColorQuiet, false, false, desktop.DefaultCursor},
		{"primary, off", Primary, func(b *KeyButton) { b.SetOff(true) }, ColorPanel, ColorLine, ColorQuiet, false, false, desktop.DefaultCursor},
		{"on again", Secondary, func(b *KeyButton) { b.SetOff(true); b.SetOff(false) }, ColorPanel, ColorAction, ColorAction, false, false, desktop.PointerCursor},
		{"focused", Secondary, func(b *KeyButton) { b.FocusGained() }, ColorPanel, ColorAction, ColorAction, true, false, desktop.PointerCursor},
		{"left", Secondary, func(b *KeyButton) { b.FocusGained(); b.FocusLost() }, ColorPanel, ColorAction, ColorAction, false, false, desktop.PointerCursor},
		{"under the pointer", Secondary, func(b *KeyButton) { b.MouseIn(nil) }, ColorPanel, ColorAction, ColorAction, false, true, desktop.PointerCursor},
		{"off under the pointer", Secondary, func(b *KeyButton) { b.SetOff(true); b.MouseIn(nil) }, ColorPanel, ColorLine, ColorQuiet, false, false, desktop.DefaultCursor},
		{"the pointer gone", Secondary, func(b *KeyButton) { b.MouseIn(nil); b.MouseOut() }, ColorPanel, ColorAction, ColorAction, false, false, desktop.PointerCursor},
		{"made primary", Secondary, func(b *KeyButton) { b.SetRank(Primary) }, ColorAction, ColorAction, ColorOnAction, false, false, desktop.PointerCursor},
	} {
		t.Run(row.name, func(t *testing.T) {
			b := newButton("Stow", "S", row.rank, nil)
			parts := sized(b, 140, buttonHeight)
			row.do(b)
			box, over, ring := parts[0].(*canvas.Rectangle), parts[1], parts[5]
			if box.FillColor != named(row.fill) || box.StrokeColor != named(row.edge) {
				t.Errorf("filled %v, edged %v; want %q and %q", box.FillColor, box.StrokeColor, row.fill, row.edge)
			}
			for _, says := range []string{"Stow", "S"} {
				if w := written(b, says); w == nil || w.Color != theme.Color(row.ink) {
					t.Errorf("%q is not in %q", says, row.ink)
				}
			}
			if ring.Visible() != row.ring || over.Visible() != row.hovered || b.Cursor() != row.cursor {
				t.Errorf("ring %v, mark %v, cursor %v", ring.Visible(), over.Visible(), b.Cursor())
			}
		})
	}
}

// The words of a button may change; its least size follows them, its key and the size
// of the family.
func TestButtonSizes(t *testing.T) {
	start(t, Theme{})
	b := NewKeyButton("Some", "S", nil)
	short := b.MinSize()
	if short.Height != buttonHeight {
		t.Errorf("%v high, want %v", short.Height, float32(buttonHeight))
	}
	b.SetLabel("Some: 1,200 of them")
	if long := b.MinSize(); long.Width <= short.Width || b.Label() != "Some: 1,200 of them" {
		t.Errorf("longer words: %v, before %v", long, short)
	}
	b.SetLabel("Some")
	if got := b.MinSize(); got != short {
		t.Errorf("the first words again: %v, want %v", got, short)
	}
	if plain := NewKeyButton("Some", "", nil).MinSize(); plain.Width >= short.Width {
		t.Errorf("without a key %v wide, with one %v", plain.Width, short.Width)
	}
	link, foot := NewLink("Some", "S", nil).MinSize(), NewFootLink("Some", "S", nil).MinSize()
	if link.Width >= short.Width || link.Height >= short.Height || foot.Width >= link.Width {
		t.Errorf("button %v, link %v, link in small text %v: each is less than the one before", short, link, foot)
	}
	fyne.CurrentApp().Settings().SetTheme(Theme{Shop: true})
	if got := b.MinSize(); got.Height <= short.Height || got.Width <= short.Width {
		t.Errorf("in shop mode %v, before %v", got, short)
	}
}

// Words that are too long for a button are set smaller and stay within it.
func TestButtonKeepsItsWords(t *testing.T) {
	start(t, Theme{})
	b := NewKeyButton("Mixed bag: split", "X", nil)
	wide := b.MinSize().Width
	size := func(width float32) float32 {
		sized(b, width, buttonHeight)
		text := written(b, "Mixed bag: split")
		if text == nil {
			t.Fatalf("%v wide: the words are cut", width)
		}
		if end := text.Position().X + text.MinSize().Width; text.Position().X < 0 || end > width {
			t.Errorf("%v wide: words from %.1f to %.1f", width, text.Position().X, end)
		}
		return text.TextSize
	}
	if full, less := size(wide), size(wide-30); full != Px(sizeBody) || less >= full {
		t.Errorf("with room %v, without %v; want body text, then smaller", full, less)
	}
	if again := size(wide + 40); again != Px(sizeBody) {
		t.Errorf("with room again: %v", again)
	}
}

// What a focused widget has no use for goes on to the window.
func TestWidgetsPassKeysOn(t *testing.T) {
	start(t, Theme{})
	for _, row := range []struct {
		name string
		make func() fyne.CanvasObject
	}{
		{"button", func() fyne.CanvasObject { return NewKeyButton("Stow", "S", nil) }},
		{"choices", func() fyne.CanvasObject { return NewChoices(0, "one", "two") }},
		{"cabinet", func() fyne.CanvasObject { return NewCabinetView(drawing.Blank("A", 1, 2)) }},
		{"list", func() fyne.CanvasObject { l := NewRowList(nameColumn()); l.SetSource(2, blankRow); return l }},
	} {
		t.Run(row.name, func(t *testing.T) {
			o := row.make()
			c := window(t, o, 400, 200)
			var got []string
			c.SetOnTypedKey(func(k *fyne.KeyEvent) { got = append(got, string(k.Name)) })
			c.SetOnTypedRune(func(r rune) { got = append(got, string(r)) })
			c.Focus(o.(fyne.Focusable))
			c.Focused().TypedRune('a')
			press(c, fyne.KeyF9, fyne.KeyEscape)
			if want := []string{"a", "F9", "Escape"}; !slices.Equal(got, want) {
				t.Errorf("passed on %q, want %q", got, want)
			}
		})
	}
}

// Of the keys with a modifier a field keeps those that edit; all others are the window's.
func TestEditingKeys(t *testing.T) {
	for key, want := range map[fyne.KeyName]bool{
		fyne.KeyLeft: true, fyne.KeyRight: true, fyne.KeyBackspace: true, fyne.KeyDelete: true,
		fyne.KeyK: false, fyne.KeyUp: false, fyne.KeyReturn: false, fyne.KeyF9: false,
	} {
		if got := editing(key); got != want {
			t.Errorf("%q: %v, want %v", key, got, want)
		}
	}
}

// A note is of several lines: Enter and the arrows stay in it.
func TestNote(t *testing.T) {
	start(t, Theme{})
	n := NewNote("what is wrong", 3)
	if one := NewEntry(""); n.MinSize().Height <= one.MinSize().Height || one.MinSize().Height < buttonHeight {
		t.Errorf("three lines %v high, one %v; want more, and no less than a button", n.MinSize().Height, one.MinSize().Height)
	}
	c := window(t, n, 300, 200)
	var got []string
	c.SetOnTypedKey(func(k *fyne.KeyEvent) { got = append(got, string(k.Name)) })
	n.OnDown = func() { got = append(got, "down") }
	c.Focus(n)
	test.Type(n, "a")
	press(c, fyne.KeyReturn, fyne.KeyUp, fyne.KeyDown)
	test.Type(n, "b")
	if n.Text != "a\nb" || len(got) > 0 {
		t.Errorf("text %q, passed on %q; want two lines and nothing", n.Text, got)
	}
	press(c, fyne.KeyF2)
	if !slices.Equal(got, []string{"F2"}) {
		t.Errorf("F2: passed on %q", got)
	}
}

// Function keys are F1 to F12 and no other key that begins with F.
func TestFunctionKeys(t *testing.T) {
	for key, want := range map[fyne.KeyName]bool{fyne.KeyF1: true, fyne.KeyF9: true, fyne.KeyF12: true, fyne.KeyF: false, "F0": false, "FF": false, "Free": false, "1": false, "": false} {
		if got := functionKey(key); got != want {
			t.Errorf("%q: %v, want %v", key, got, want)
		}
	}
}

// Esc is for the field first where it has a use for it.
func TestEscapeOfAnEntry(t *testing.T) {
	start(t, Theme{})
	for _, taken := range []bool{true, false} {
		e := NewEntry("")
		c := window(t, e, 300, 50)
		var got []fyne.KeyName
		c.SetOnTypedKey(func(k *fyne.KeyEvent) { got = append(got, k.Name) })
		asked := 0
		e.OnEscape = func() bool { asked++; return taken }
		c.Focus(e)
		press(c, fyne.KeyEscape)
		if asked != 1 || (c.Focused() != nil) != taken || len(got) == 1 == taken {
			t.Errorf("taken %v: asked %d times, focus %v, passed on %q", taken, asked, c.Focused(), got)
		}
	}
}

// The bar says in short what it takes where there is little room, and its hint opens
// the camera.
func TestCommandHint(t *testing.T) {
	start(t, Theme{})
	opened := 0
	e := NewCommandEntry(func() { opened++ })
	for width, words := range map[float32]bool{narrowBar - 1: false, narrowBar: true} {
		e.Resize(fyne.NewSize(width, 46))
		if got := written(e.hint, "camera") != nil; got != words {
			t.Errorf("%v wide: words %v, want %v", width, got, words)
		}
		if written(e.hint, "F2") == nil {
			t.Errorf("%v wide: the key is not shown", width)
		}
	}
	test.Tap(e.hint)
	NewCommandEntry(nil).hint.Tapped(nil)
	if opened != 1 {
		t.Errorf("tapped: opened %d times", opened)
	}
}

// A caption is cut at its words, never at its label.
func TestCaptionStates(t *testing.T) {
	start(t, Theme{Mode: Light})
	c := NewCaption("Shop:", "Type Q of the north shed")
	whole := c.MinSize().Width
	c.Resize(fyne.NewSize(whole, 20))
	if written(c, "Type Q of the north shed") == nil || c.Text() != "Type Q of the north shed" {
		t.Errorf("with room it says %q", texts(c))
	}
	c.Resize(fyne.NewSize(whole-40, 20))
	if got := texts(c); got[0] != "Shop:" || !strings.HasSuffix(got[1], "…") {
		t.Errorf("without room it says %q", got)
	}
	c.Set("", "last: counted")
	c.Resize(fyne.NewSize(whole, 20))
	words := written(c, "last: counted")
	if words == nil || words.Color != theme.Color(ColorQuiet) || words.TextStyle.Bold || words.Position().X != 0 {
		t.Errorf("without a label: %+v, want quiet and regular words from the left", words)
	}
	c.Set("Last:", "counted")
	if words = written(c, "counted"); words == nil || words.Color != theme.Color(ColorInk) || !words.TextStyle.Bold {
		t.Errorf("with a label: %+v, want bold words", words)
	}
}

// A notice and a pill show their tone in ink and ground; the quiet ones have an edge.
func TestTonesOfBoxes(t *testing.T) {
	start(t, Theme{Mode: Light})
	for _, row := range []struct {
		tone                      notice.Tone
		ink, ground, pill, pillOn fyne.ThemeColorName
		edged                     bool
	}{
		{notice.Quiet, ColorInk, ColorGround, ColorInk, ColorPanel, true},
		{notice.OK, ColorInk, ColorChosen, ColorAction, "", true},
		{notice.Warn, ColorWarn, ColorWarnGround, ColorWarn, ColorWarnGround, false},
		{notice.Stop, ColorStop, ColorStopGround, ColorStop, ColorStopGround, false},
	} {
		n := NewNotice(notice.Notice{Tone: notice.Quiet, Text: "before"})
		sized(n, 300, 60)
		n.SetNotice(notice.Notice{Tone: row.tone, Lead: "Short:", Text: "of two"})
		box := test.WidgetRenderer(n).Objects()[0].(*canvas.Rectangle)
		if lead := written(n, "Short:"); lead == nil || lead.Color != theme.Color(row.ink) || !lead.TextStyle.Bold {
			t.Errorf("notice %v: lead %+v", row.tone, lead)
		}
		if box.FillColor != named(row.ground) || (box.StrokeWidth > 0) != row.edged || n.Text() != "Short: of two" {
			t.Errorf("notice %v: on %v, edge %v, %q", row.tone, box.FillColor, box.StrokeWidth, n.Text())
		}
		tapped := 0
		p := NewPill("before", "F9", notice.Quiet, func() { tapped++ })
		p.Set("2 days left", row.tone)
		box = sized(p, 160, 34)[0].(*canvas.Rectangle)
		words := written(p, "2 days left")
		if words == nil || words.Color != theme.Color(row.pill) || box.FillColor != named(row.pillOn) || (box.StrokeWidth > 0) != row.edged {
			t.Errorf("pill %v: %+v on %v, edge %v", row.tone, words, box.FillColor, box.StrokeWidth)
		}
		if test.Tap(p); tapped != 1 {
			t.Errorf("pill %v: tapped %d times", row.tone, tapped)
		}
	}
	NewPill("no one", "", notice.Quiet, nil).Tapped(nil)
	if with, without := NewPill("Partner", "F9", notice.Quiet, nil).MinSize(), NewPill("Partner", "", notice.Quiet, nil).MinSize(); with.Width <= without.Width {
		t.Errorf("with its key %v, without %v", with, without)
	}
}

// A mark shrinks its word to the room there is, and hides without one.
func TestStateMarks(t *testing.T) {
	start(t, Theme{Mode: Light})
	m := NewStateMark(notice.Mark{Word: "wrong revision", Tone: notice.Stop})
	whole := m.MinSize()
	sized(m, whole.Width, 27)
	full := written(m, "wrong revision").TextSize
	if got := written(m, "wrong revision").Color; got != theme.Color(ColorStop) {
		t.Errorf("a stop is written in %v", got)
	}
	sized(m, whole.Width-30, 27)
	text := written(m, "wrong revision")
	if text.TextSize >= full || text.Position().X+text.MinSize().Width > whole.Width-30 {
		t.Errorf("with less room: %v points to %.1f, want less than %v within %.1f", text.TextSize, text.Position().X+text.MinSize().Width, full, whole.Width-30)
	}
	m.SetMark(notice.Mark{Word: "all here", Tone: notice.OK})
	if got := written(m, "all here"); got == nil || got.Color != theme.Color(ColorInk) {
		t.Errorf("all here: %+v, want it in ink", got)
	}
	m.SetMark(notice.Mark{})
	if got := texts(m); len(got) > 0 || !m.MinSize().IsZero() {
		t.Errorf("without a word: %q, %v", got, m.MinSize())
	}
	m.SetMark(notice.Mark{Word: "over", Tone: notice.Warn})
	if got := texts(m); !slices.Equal(got, []string{"over"}) {
		t.Errorf("with a word again: %q", got)
	}
}

// A front looks as it is: lit, empty, like another, filled to its level.
func TestDrawerFronts(t *testing.T) {
	start(t, Theme{Mode: Light})
	for _, row := range []struct {
		name                          string
		d                             drawing.Drawer
		small, cursor                 bool
		dashes, unlike, level, ringed bool
		ink                           fyne.ThemeColorName
	}{
		{"holds something", drawing.Drawer{Name: "A-01", Designation: "AN3-5A", Level: 0.5}, false, false, false, false, true, false, ColorInk},
		{"unknown level", drawing.Drawer{Name: "A-01", Designation: "AN3-5A", Level: -1}, false, false, false, false, false, false, ColorInk},
		{"empty", drawing.Drawer{Name: "A-01", Empty: true, Level: 0.5}, false, false, true, false, false, false, ColorQuiet},
		{"lit and empty", drawing.Drawer{Name: "A-01", Empty: true, Lit: true}, false, false, false, false, false, false, ColorLitInk},
		{"lit", drawing.Drawer{Name: "A-01", Designation: "AN3-5A", Lit: true}, false, false, false, false, true, false, ColorLitInk},
		{"like another", drawing.Drawer{Name: "A-01", Designation: "AN3-5A", LookAlike: true}, false, false, false, true, true, false, ColorInk},
		{"like another, small", drawing.Drawer{Name: "A-01", Designation: "AN3-5A", LookAlike: true}, true, false, false, false, false, false, ColorInk},
		{"at the cursor", drawing.Drawer{Name: "A-01", Designation: "AN3-5A"}, false, true, false, false, true, true, ColorInk},
	} {
		f := newDrawerParts()
		f.set(row.d, row.small, row.cursor)
		f.layout(fyne.NewPos(0, 0), fyne.NewSize(120, 90))
		if f.dashes.Visible() != row.dashes || f.notEqual.Visible() != row.unlike || f.track.Visible() != row.level || f.level.Visible() != row.level || f.ring.Visible() != row.ringed || f.ink() != row.ink {
			t.Errorf("%s: dashes %v, unlike %v, level %v, ring %v, ink %q", row.name, f.dashes.Visible(), f.notEqual.Visible(), f.track.Visible(), f.ring.Visible(), f.ink())
		}
	}
	f := newDrawerParts()
	for level, part := range map[float64]float32{0: 0, 0.25: 0.25, 1: 1, 1.5: 1} {
		f.set(drawing.Drawer{Name: "A-01", Designation: "AN3-5A", Level: level}, false, false)
		f.layout(fyne.NewPos(0, 0), fyne.NewSize(120, 90))
		if got, want := f.level.Size().Width, f.track.Size().Width*part; got < want-0.01 || got > want+0.01 {
			t.Errorf("level %v: %.1f of %.1f", level, got, f.track.Size().Width)
		}
	}
	f.set(drawing.Drawer{Name: "A-01", Designation: "AN3-5A", Level: -1, Count: "about 1,680"}, false, false)
	for height, want := range map[float32]string{110: "about 1,680", 50: ""} {
		f.layout(fyne.NewPos(0, 0), fyne.NewSize(120, height))
		if f.count.Text != want {
			t.Errorf("%v high: the count says %q, want %q", height, f.count.Text, want)
		}
	}
	if f.layout(fyne.NewPos(0, 0), fyne.NewSize(50, 110)); f.count.Text != "" {
		t.Errorf("too narrow for the count: %q", f.count.Text)
	}
}

// A figure is set smaller and never cut; words are cut with dots.
func TestCellsKeepFigures(t *testing.T) {
	start(t, Theme{})
	for _, row := range []struct {
		kind table.Kind
		cut  bool
		end  bool // at the right edge
	}{{table.Figure, false, true}, {table.Plain, false, true}, {table.Words, true, false}, {table.Faint, true, false}} {
		c := &cellParts{text: newText(), sub: newText(), mark: newMarkParts()}
		role, _ := cellRole(row.kind)
		width := role.width("1,680,000") * 0.8
		c.fill(table.T("1,680,000"), cellArea{x: 10, w: width, h: 58, kind: row.kind})
		if cut := c.text.Text != "1,680,000"; cut != row.cut || c.text.MinSize().Width > width+0.5 {
			t.Errorf("kind %v: says %q, %.1f of %.1f wide", row.kind, c.text.Text, c.text.MinSize().Width, width)
		}
		c.fill(table.T("7"), cellArea{x: 10, w: width, h: 58, kind: row.kind})
		left := c.text.Position().X
		if atEnd := left > 10.5; atEnd != row.end || row.end && (left+c.text.MinSize().Width > 10+width+0.5 || left+c.text.MinSize().Width < 10+width-0.5) {
			t.Errorf("kind %v: a short one stands at %.1f", row.kind, left)
		}
		if c.text.TextSize != Px(role.size) {
			t.Errorf("kind %v: a short one is %v points, want %v", row.kind, c.text.TextSize, Px(role.size))
		}
		c.fill(table.T("7"), cellArea{x: 10, w: width, h: 58, kind: row.kind, dim: true})
		if c.text.Color != theme.Color(ColorQuiet) {
			t.Errorf("kind %v: a dim one is written in %v", row.kind, c.text.Color)
		}
	}
}

// A row shows that it is chosen, and with a ring that the keyboard is there.
func TestRowStates(t *testing.T) {
	start(t, Theme{})
	l := NewRowList(nameColumn())
	l.SetSource(3, blankRow)
	c := window(t, l, 300, 300)
	l.Mark(1)
	row := func(i int) []fyne.CanvasObject { return test.WidgetRenderer(l.space.rows[i]).Objects() }
	shows := func(i int) [3]bool { o := row(i); return [3]bool{o[0].Visible(), o[1].Visible(), o[3].Visible()} }
	for _, step := range []struct {
		name         string
		do           func()
		first, other [3]bool // ground, bar, ring
	}{
		{"marked", func() {}, [3]bool{false, false, false}, [3]bool{true, true, false}},
		{"the pointer on the first", func() { l.space.rows[0].MouseIn(nil) }, [3]bool{true, false, false}, [3]bool{true, true, false}},
		{"the pointer gone", func() { l.space.rows[0].MouseOut() }, [3]bool{false, false, false}, [3]bool{true, true, false}},
		{"focused", func() { c.Focus(l) }, [3]bool{false, false, false}, [3]bool{true, true, true}},
		{"one up", func() { press(c, fyne.KeyUp) }, [3]bool{true, true, true}, [3]bool{false, false, false}},
		{"left", func() { c.Unfocus() }, [3]bool{true, true, false}, [3]bool{false, false, false}},
	} {
		step.do()
		if a, b := shows(0), shows(1); a != step.first || b != step.other {
			t.Errorf("%s: first %v, second %v; want %v and %v", step.name, a, b, step.first, step.other)
		}
	}
	if last := row(2)[2]; last.Visible() {
		t.Error("a line is under the last row")
	}
	if first := row(0)[2]; !first.Visible() {
		t.Error("no line is under the first row")
	}
}

// Lists tell of a tap, and of a second one on the row that was chosen.
func TestTapsOnRows(t *testing.T) {
	start(t, Theme{})
	l := NewRowList(table.Column{Title: "name", Kind: table.Names})
	l.SetSource(3, blankRow)
	window(t, l, 300, 300)
	var got []string
	l.OnChosen = func(_ int, r table.Row) { got = append(got, "chosen "+r.ID) }
	l.OnTapped = func(_ int, r table.Row) { got = append(got, "tapped "+r.ID) }
	l.OnTappedAgain = func() { got = append(got, "again") }
	test.Tap(l.space.rows[1])
	test.Tap(l.space.rows[1])
	test.Tap(l.space.rows[2])
	test.WidgetRenderer(l).Objects()[2].(*rowView).Tapped(nil) // the header
	if want := []string{"chosen 1", "tapped 1", "tapped 1", "again", "chosen 2", "tapped 2"}; !slices.Equal(got, want) {
		t.Errorf("told %q, want %q", got, want)
	}
	if l.SetSource(2, blankRow); l.chosen != -1 {
		t.Errorf("the chosen row is gone: %d is chosen", l.chosen)
	}
	if l.Mark(9); l.chosen != -1 {
		t.Errorf("a row that is not there is marked: %d", l.chosen)
	}
}

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
	a := NewAmount("28", "each", "counted")
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

// One answer of a row is chosen, and says so with a tick and the ring of the keyboard.
func TestChoiceStates(t *testing.T) {
	start(t, Theme{})
	ch := NewChoices(-1, "one", "two")
	c := window(t, ch, 300, 40)
	shows := func() (out []bool) {
		for _, o := range ch.row.Objects {
			parts := test.WidgetRenderer(o.(*choice)).Objects()
			out = append(out, parts[1].Visible(), parts[3].Visible()) // tick and ring
		}
		return out
	}
	told := 0
	ch.OnChosen = func(int) { told++ }
	for _, step := range []struct {
		name string
		do   func()
		want []bool
		told int
	}{
		{"none", func() {}, []bool{false, false, false, false}, 0},
		{"marked", func() { ch.Mark(1) }, []bool{false, false, true, false}, 0},
		{"the same again", func() { ch.Choose(1) }, []bool{false, false, true, false}, 0},
		{"focused", func() { c.Focus(ch) }, []bool{false, false, true, true}, 0},
		{"beyond the last", func() { press(c, fyne.KeyRight) }, []bool{false, false, true, true}, 0},
		{"to the first", func() { press(c, fyne.KeyLeft) }, []bool{true, true, false, false}, 1},
		{"before the first", func() { press(c, fyne.KeyLeft) }, []bool{true, true, false, false}, 1},
		{"left", func() { c.Unfocus() }, []bool{true, false, false, false}, 1},
	} {
		step.do()
		if got := shows(); !slices.Equal(got, step.want) || told != step.told {
			t.Errorf("%s: %v, told %d; want %v, %d", step.name, got, told, step.want, step.told)
		}
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

// A cabinet has a ring around the front where the keyboard is, and none without it.
func TestCabinetRing(t *testing.T) {
	start(t, Theme{})
	p := NewCabinetView(drawing.Blank("A", 1, 3))
	c := window(t, p, 400, 100)
	rings := func() (n int) {
		for _, o := range test.WidgetRenderer(p).Objects() {
			if box, ok := o.(*canvas.Rectangle); ok && box.Visible() && box.StrokeColor == theme.Color(ColorAction) {
				n++
			}
		}
		return n
	}
	for _, step := range []struct {
		name string
		do   func()
		want int
	}{
		{"at first", func() {}, 0},
		{"focused", func() { c.Focus(p) }, 1},
		{"one on", func() { press(c, fyne.KeyRight) }, 1},
		{"left", func() { c.Unfocus() }, 0},
	} {
		if step.do(); rings() != step.want {
			t.Errorf("%s: %d rings, want %d", step.name, rings(), step.want)
		}
	}
}

// A designation is broken after its prefix first, then after its dashes, and not at its
// ends.
func TestBreaksOfADesignation(t *testing.T) {
	for text, want := range map[string][]int{
		"AN470AD4-7": {5, 9}, "NAS1149F0363P": {7}, "OQ-10-031": {3, 6}, "A-1-2": {4}, "AN3": nil, "AN3-": nil, "-": nil, "": nil,
	} {
		if got := breaks(text); !slices.Equal(got, want) {
			t.Errorf("%q: %v, want %v", text, got, want)
		}
	}
	for text, want := range map[string]int{"AN470AD4-7": 5, "470": 0, "AN": 0, "OQ-10": 0, "": 0} {
		if got := prefix(text); got != want {
			t.Errorf("the prefix of %q: %d, want %d", text, got, want)
		}
	}
}
