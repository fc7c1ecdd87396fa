package look

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
)

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
	Theme{Shop: true}.Apply()
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
