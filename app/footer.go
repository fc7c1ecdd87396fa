package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"stowright/app/look"
)

// Footer is the line at the bottom of the window.
type Footer struct {
	Shop    string // which shop: "Type Q"
	Behind  string // what goes on behind the window: "getting Find ready, 40 %"
	Last    string // the last entry of the journal: "Partner counted A-30: 150"
	CanUndo bool   // whether Ctrl+Z would undo it
}

// caution is always in sight: what the program shows approves nothing.
const caution = "Plans and the kit maker govern. Check look-alikes by hand."

// footer is the drawn line.
type footer struct {
	shop, behind, last *look.Caption
	undo, help, size   *look.KeyButton
	row                *fyne.Container
}

func newFooter(undo, help, size func()) *footer {
	f := &footer{
		shop: look.NewCaption("", ""), behind: look.NewCaption("", ""), last: look.NewCaption("", ""),
		undo: look.NewFootLink("Undo", "Ctrl+Z", undo), size: look.NewFootLink(sizeWord(), "F8", size),
		help: look.NewFootLink("Help", "F1", help),
	}
	f.row = container.New(&footerLayout{footer: f}, f.shop, f.behind, f.last, f.help, f.undo, f.size, look.NewCaption("", caution))
	f.set(Footer{})
	return f
}

func (f *footer) set(to Footer) {
	f.shop.Set("Shop:", to.Shop)
	f.behind.Set("", to.Behind)
	f.last.Set("Last:", to.Last)
	f.shop.Hidden, f.behind.Hidden, f.last.Hidden, f.undo.Hidden = to.Shop == "", to.Behind == "", to.Last == "", !to.CanUndo
	f.row.Refresh()
}

// sizeWord is what F8 would make of everything now.
func sizeWord() string {
	if th, ok := fyne.CurrentApp().Settings().Theme().(look.Theme); ok && th.Shop {
		return "Smaller"
	}
	return "Larger"
}

// footerLayout sets shop, what goes on and last entry from the left, undo, the change of
// size and the caution at the right: what is pressed stays where it is, whatever the last
// entry says. Where they do not all fit, the last entry is
// cut, and goes where hardly a word of it would be seen; then what stands at the left
// is cut. The change of size stays: whoever made everything larger has to find the way
// back. Help goes before the last entry is cut short: F1 works without it.
type footerLayout struct{ footer *footer }

// Widths of the last entry, in points at normal size.
const (
	enoughLast = 260 // where it has less, help gives it its room
	leastLast  = 110
	leastShop  = 90 // of the name of the shop, and of what lies behind
)

func (*footerLayout) MinSize([]fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(look.Px(300), look.Px(footerHeight))
}

func (l *footerLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	f, warn := l.footer, objects[len(objects)-1]
	pad, gap := look.Px(16), look.Px(22)
	put := func(o fyne.CanvasObject, x, w float32) {
		h := min(size.Height, o.MinSize().Height)
		o.Move(fyne.NewPos(x, (size.Height-h)/2))
		o.Resize(fyne.NewSize(w, h))
	}
	if word := sizeWord(); f.size.Label() != word { // the theme may have changed by itself
		f.size.SetLabel(word)
	}
	right := size.Width - pad
	for _, o := range []fyne.CanvasObject{warn, f.size, f.undo} {
		if !o.Visible() {
			continue
		}
		w := o.MinSize().Width
		put(o, right-w, w)
		right -= w + gap
	}
	f.last.Hidden = f.last.Text() == ""
	wanted := pad
	for _, o := range []*look.Caption{f.shop, f.behind} {
		o.Hidden = o.Text() == ""
		if o.Visible() {
			wanted += o.MinSize().Width + gap
		}
	}
	if f.last.Visible() {
		wanted += min(f.last.MinSize().Width, look.Px(enoughLast)) + gap
	}
	if w := f.help.MinSize().Width; wanted+w <= right {
		f.help.Show()
		put(f.help, right-w, w)
		right -= w + gap
	} else {
		f.help.Hide()
	}
	x := pad
	room := right - x
	for _, o := range []*look.Caption{f.shop, f.behind} {
		w := min(o.MinSize().Width, room)
		if w < min(o.MinSize().Width, look.Px(leastShop)) {
			o.Hide() // two letters of a name say nothing
		}
		if o.Visible() {
			put(o, x, w)
			x += w + gap
			room -= w + gap
		}
	}
	if least := min(f.last.MinSize().Width, look.Px(leastLast)); room < least {
		f.last.Hide()
	}
	if f.last.Visible() {
		w := min(f.last.MinSize().Width, room)
		put(f.last, x, w)
	}
}
