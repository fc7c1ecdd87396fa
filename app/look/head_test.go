package look

import (
	"image"
	"testing"

	"fyne.io/fyne/v2"

	"stowright/app/table"
)

// The buttons of a page stand beside its title where there is room for both, and
// below it where there is not; hidden ones take no room.
func TestHead(t *testing.T) {
	start(t, Theme{Mode: Light})
	title := NewTitle("Garage · Cabinet A")
	buttons := Line(NewKeyButton("Up", "U", nil), NewKeyButton("Print labels", "L", nil))
	head := Head(title, buttons)
	want, _ := wants(buttons)
	titleWants, _ := wants(title)
	for _, row := range []struct {
		name   string
		width  float32
		beside bool
	}{
		{"wide", 900, true},
		{"just enough", want + titleWants + Px(headGap) + 1, true},
		{"narrow", want + titleWants, false},
		{"hardly any", 120, false},
	} {
		t.Run(row.name, func(t *testing.T) {
			high := heightFor(head, row.width)
			head.Resize(fyne.NewSize(row.width, high))
			at, size := buttons.Position(), buttons.Size()
			if beside := at.Y == 0; beside != row.beside {
				t.Errorf("at %.0f wide the buttons are at %v, want beside the title: %v", row.width, at, row.beside)
			}
			if row.beside && (at.X+size.Width != row.width || at.X < title.Position().X+titleWants) {
				t.Errorf("at %.0f wide the buttons are at %v, %v wide: not at the right, or over the title", row.width, at, size.Width)
			}
			if !row.beside && at.Y < title.Position().Y+title.Size().Height {
				t.Errorf("at %.0f wide the buttons are at %v, over the title of %v", row.width, at, title.Size())
			}
			if at.Y+size.Height > high+0.5 {
				t.Errorf("at %.0f wide the head is %.0f high, and its buttons reach %.0f", row.width, high, at.Y+size.Height)
			}
		})
	}
	buttons.Hide()
	if got := heightFor(head, 900); got != heightFor(title, 900) {
		t.Errorf("without buttons the head is %.0f high, want %.0f", got, heightFor(title, 900))
	}
}

// A photograph keeps its shape within bounds, and gives way to the list under it.
func TestPhoto(t *testing.T) {
	start(t, Theme{Mode: Light})
	p := NewPhoto()
	if got := p.HeightFor(800); got != 0 {
		t.Errorf("no picture is %.0f high, want 0", got)
	}
	for _, row := range []struct {
		name string
		size image.Rectangle
		want float32
	}{
		{"wide", image.Rect(0, 0, 800, 200), 200}, {"high", image.Rect(0, 0, 100, 400), Px(mostPhoto)}, {"nothing", image.Rectangle{}, 0},
	} {
		p.SetPicture(image.NewRGBA(row.size))
		if got := p.HeightFor(800); got != row.want {
			t.Errorf("%s at 800 wide: %.0f high, want %.0f", row.name, got, row.want)
		}
	}
	p.SetPicture(image.NewRGBA(image.Rect(0, 0, 800, 600)))
	list := NewRowList()
	list.SetSource(50, func(int) table.Row { return table.Row{} })
	box := AtMost(300, list)
	if got := heightFor(box, 800); got != Px(300) {
		t.Errorf("a long list is %.0f high, want at most %.0f", got, Px(300))
	}
	list.count = 2
	if got := heightFor(box, 800); got != list.HeightFor(800) {
		t.Errorf("a short list is %.0f high, want its own %.0f", got, list.HeightFor(800))
	}
	page := Fill(12, p, box)
	page.Resize(fyne.NewSize(800, 400))
	if end := box.Position().Y + box.Size().Height; end > 400.5 || p.Size().Height < Px(160) {
		t.Errorf("on a page 400 high the list ends at %.0f, the picture is %.0f high", end, p.Size().Height)
	}
}

// A Fill within a dialog gives way through the list that it holds.
func TestFillWithinFill(t *testing.T) {
	start(t, Theme{Mode: Light})
	list := NewRowList()
	list.SetSource(50, func(int) table.Row { return table.Row{} })
	button := NewKeyButton("Move it", "Enter", nil)
	outer := Fill(16, NewTitle("Move"), Fill(12, NewQuiet("Choose where it goes."), list), button)
	outer.Resize(fyne.NewSize(500, 400))
	if end := button.Position().Y + button.Size().Height; end > 400.5 {
		t.Errorf("the button ends at %.0f of 400", end)
	}
	if got := list.Size().Height; got < 100 {
		t.Errorf("the list is %.0f high", got)
	}
}

// One label of a page is shown enlarged, and a tap on it says where on the page it was.
func TestSheetPart(t *testing.T) {
	start(t, Theme{Mode: Light})
	page, _ := samplePage(t)
	s := NewSheetView(page)
	cell := page.Cells[len(page.Cells)-1].Rect
	s.SetPart(page, cell)
	if got, want := s.HeightFor(300), float32(300*cell.H/cell.W); got != want {
		t.Errorf("300 wide it is %.1f high, want %.1f", got, want)
	}
	s.Resize(fyne.NewSize(302, s.HeightFor(300)+2))
	var x, y float64
	s.OnTapped = func(mx, my float64) { x, y = mx, my }
	s.Tapped(&fyne.PointEvent{Position: fyne.NewPos(151, 1)})
	if dx, dy := x-(cell.X+cell.W/2), y-cell.Y; dx*dx+dy*dy > 0.01 {
		t.Errorf("tapped in the middle of its top edge: %.2f, %.2f; want %.2f, %.2f", x, y, cell.X+cell.W/2, cell.Y)
	}
}
