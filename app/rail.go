package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"stowright/app/look"
)

// railItem is one screen on the rail: icon and word, the current one marked by a
// bar, ink and weight.
type railItem struct {
	widget.BaseWidget
	screen           Screen
	current, hovered bool
	focused          bool
	onTapped         func()
}

func newRailItem(s Screen, tapped func()) *railItem {
	i := &railItem{screen: s, onTapped: tapped}
	i.ExtendBaseWidget(i)
	return i
}

func (i *railItem) setCurrent(on bool) {
	if i.current != on {
		i.current = on
		i.Refresh()
	}
}

// Tapped goes to the screen.
func (i *railItem) Tapped(*fyne.PointEvent) { i.onTapped() }

// FocusGained draws a ring.
func (i *railItem) FocusGained() { i.focused = true; i.Refresh() }

// FocusLost takes it away.
func (i *railItem) FocusLost() { i.focused = false; i.Refresh() }

// AcceptsTab reports whether Tab waits.
func (i *railItem) AcceptsTab() bool { return look.Waits(i) }

// TypedRune goes to the screen on a space, and hands letters on to the window.
func (i *railItem) TypedRune(r rune) {
	switch t := (look.Typed{Rune: r}); {
	case look.Kept(i, t):
	case r == ' ':
		i.onTapped()
	default:
		look.PassOn(i, t)
	}
}

// TypedShortcut hands shortcuts on to the window.
func (i *railItem) TypedShortcut(s fyne.Shortcut) { look.PassOn(i, look.Typed{Shortcut: s}) }

// TypedKey goes to the screen on Enter.
func (i *railItem) TypedKey(key *fyne.KeyEvent) {
	t := look.Typed{Key: key}
	switch name := look.KeyName(key.Name); {
	case look.Kept(i, t):
	case name == "Enter":
		i.onTapped()
	default:
		look.PassOn(i, t)
	}
}

// Cursor is a hand over the item.
func (i *railItem) Cursor() desktop.Cursor { return desktop.PointerCursor }

// MouseIn marks the item under the pointer.
func (i *railItem) MouseIn(*desktop.MouseEvent) { i.hovered = true; i.Refresh() }

// MouseMoved does nothing.
func (i *railItem) MouseMoved(*desktop.MouseEvent) {}

// MouseOut ends the mark.
func (i *railItem) MouseOut() { i.hovered = false; i.Refresh() }

// AccessibilityLabel is the screen, and whether it is shown.
func (i *railItem) AccessibilityLabel() string {
	if i.current {
		return i.screen.Title + ", shown"
	}
	return i.screen.Title
}

// AccessibilityRole is that of a button.
func (i *railItem) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleButton }

// CreateRenderer draws the item.
func (i *railItem) CreateRenderer() fyne.WidgetRenderer {
	r := &railRenderer{item: i, ground: &canvas.Rectangle{}, bar: &canvas.Rectangle{}, ring: &canvas.Rectangle{StrokeWidth: 2, CornerRadius: 6}, icon: &canvas.Image{FillMode: canvas.ImageFillContain}, word: &canvas.Text{}}
	r.Refresh()
	return r
}

type railRenderer struct {
	item        *railItem
	ground, bar *canvas.Rectangle
	ring        *canvas.Rectangle // where it has the focus
	icon        *canvas.Image
	word        *canvas.Text
}

func (r *railRenderer) Destroy() {}

func (r *railRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.ground, r.bar, r.icon, r.word, r.ring}
}

func (r *railRenderer) MinSize() fyne.Size {
	return fyne.NewSize(look.Px(railWidth), look.Px(46))
}

// Layout centres icon and word; on a low window the icon gives way first.
func (r *railRenderer) Layout(size fyne.Size) {
	r.ground.Resize(size)
	r.bar.Resize(fyne.NewSize(look.Px(4), size.Height))
	pad := look.Px(5)
	r.ring.Move(fyne.NewPos(pad, pad/2))
	r.ring.Resize(fyne.NewSize(size.Width-2*pad, size.Height-pad))
	word := r.word.MinSize()
	side := min(look.Px(26), size.Height-word.Height-look.Px(8))
	gap := min(look.Px(7), max(0, size.Height-side-word.Height-look.Px(4)))
	y := (size.Height - side - gap - word.Height) / 2
	r.icon.Move(fyne.NewPos((size.Width-side)/2, y))
	r.icon.Resize(fyne.NewSize(side, side))
	r.word.Move(fyne.NewPos((size.Width-word.Width)/2, y+side+gap))
	r.word.Resize(word)
}

func (r *railRenderer) Refresh() {
	ink := look.ColorQuiet
	r.ground.FillColor = theme.Color(look.ColorPanel)
	if r.item.current {
		ink = look.ColorInk
		r.ground.FillColor = theme.Color(look.ColorGround)
	} else if r.item.hovered {
		r.ground.FillColor = theme.Color(theme.ColorNameHover)
	}
	r.bar.FillColor = theme.Color(look.ColorAction)
	r.bar.Hidden = !r.item.current
	r.ring.StrokeColor, r.ring.Hidden = theme.Color(look.ColorAction), !r.item.focused
	r.icon.Resource = look.Icon(r.item.screen.Icon, ink)
	r.icon.Refresh()
	r.word.Text = r.item.screen.Title
	r.word.Color = theme.Color(ink)
	r.word.TextSize = theme.Size(theme.SizeNameCaptionText)
	r.word.TextStyle = fyne.TextStyle{Bold: r.item.current}
	r.Layout(r.item.Size())
	canvas.Refresh(r.item)
}
