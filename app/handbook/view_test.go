package handbook

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"

	"stowright/app/apptest"
	"stowright/app/demo"
	"stowright/app/look"
	"stowright/app/routes"
	"stowright/app/session/sessiontest"
)

// desk is a page in a test window.
type desk struct {
	*sessiontest.Bench
	*apptest.Window
	t *testing.T
	p *Page
	w fyne.Window
}

func open(t *testing.T, part, about string) *desk {
	t.Helper()
	d := &desk{Bench: sessiontest.Open(t, demo.Unpacked), Window: apptest.NewWindow(t), t: t}
	d.p = New(d.Session, d.Window, routes.Route{Screen: routes.Handbook, Part: part, About: about})
	d.w = test.NewTempWindow(t, d.p.Object())
	d.w.Resize(fyne.NewSize(1188, 706))
	d.Drain()
	return d
}

// walk calls visit with every visible object, until it says stop.
func walk(o fyne.CanvasObject, visit func(fyne.CanvasObject) bool) bool {
	if o == nil || !o.Visible() {
		return false
	}
	if visit(o) {
		return true
	}
	var children []fyne.CanvasObject
	switch c := o.(type) {
	case *container.Scroll:
		children = []fyne.CanvasObject{c.Content}
	case *fyne.Container:
		children = c.Objects
	case fyne.Widget:
		children = test.WidgetRenderer(c).Objects()
	}
	for _, child := range children {
		if walk(child, visit) {
			return true
		}
	}
	return false
}

// texts is all that the page says.
func (d *desk) texts() string {
	var all []string
	walk(d.p.Object(), func(o fyne.CanvasObject) bool {
		if t, ok := o.(*canvas.Text); ok {
			all = append(all, t.Text)
		}
		return false
	})
	return strings.Join(all, " ")
}

func (d *desk) says(want string) {
	d.t.Helper()
	if got := d.texts(); !strings.Contains(got, want) {
		d.t.Errorf("the page says\n%s\nwant %q", got, want)
	}
}

// fill types into the field that says a text while it is empty.
func (d *desk) fill(says, text string) {
	d.t.Helper()
	if !walk(d.p.Object(), func(o fyne.CanvasObject) bool {
		e, ok := o.(*look.Entry)
		if ok && e.PlaceHolder == says {
			e.SetText(text)
		}
		return ok && e.PlaceHolder == says
	}) {
		d.t.Fatalf("no field says %q", says)
	}
	d.Drain()
}

// press presses the button of a key.
func (d *desk) press(key string) {
	d.t.Helper()
	if !look.PressKey(d.p.Object(), key) {
		d.t.Fatalf("no button has the key %s", key)
	}
	d.Drain()
}

// tap taps the button with a label.
func (d *desk) tap(label string) {
	d.t.Helper()
	if !walk(d.p.Object(), func(o fyne.CanvasObject) bool {
		b, ok := o.(*look.KeyButton)
		if ok && b.Label() == label {
			b.Tapped(nil)
		}
		return ok && b.Label() == label
	}) {
		d.t.Fatalf("no button says %q", label)
	}
	d.Drain()
}

// choose chooses an answer of the row that has it at that index.
func (d *desk) choose(first string, index int) {
	d.t.Helper()
	if !walk(d.p.Object(), func(o fyne.CanvasObject) bool {
		c, ok := o.(*look.Choices)
		if !ok {
			return false
		}
		found := walk(c, func(o fyne.CanvasObject) bool {
			t, ok := o.(*canvas.Text)
			return ok && t.Text == first
		})
		if found {
			c.Choose(index)
		}
		return found
	}) {
		d.t.Fatalf("no answers with %q", first)
	}
	d.Drain()
}

func TestEveryPartCarriesTheCaution(t *testing.T) {
	names, _ := Parts()
	for _, name := range names {
		t.Run("part "+name, func(t *testing.T) {
			d := open(t, name, "")
			d.says("tell look-alikes apart by hand")
			d.p.Changed()
			d.Drain()
			if d.p.Title() != "Handbook" {
				t.Errorf("titled %q", d.p.Title())
			}
		})
	}
}

func TestBarLeadsToTheParts(t *testing.T) {
	d := open(t, LookUpPart, "")
	names, _ := Parts()
	for i, name := range names[1:] {
		d.choose("Torque", i+1)
		if want := (routes.Route{Screen: routes.Handbook, Part: name}); d.Route != want {
			t.Errorf("part %d leads to %+v, want %+v", i+1, d.Route, want)
		}
	}
}

func TestLookUpView(t *testing.T) {
	d := open(t, LookUpPart, "")
	field := d.w.Canvas().Focused()
	if field == nil {
		t.Fatal("nothing has the focus")
	}
	test.Type(field, "SP7K3M9QXD")
	field.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if d.Typed != "SP7K3M9QXD" {
		t.Errorf("a tag that is scanned into the field goes nowhere: %q", d.Typed)
	}
	d.p.Query("")
	d.Drain()
	d.press("F6")
	if d.Route.Part != MeasurePart {
		t.Errorf("F6 leads to %+v", d.Route)
	}
	d.fill("AN3-5A, an470 ad4-7, MS24665-132 ...", "an3 5a")
	d.says("NASM3-20 (AN3-AN20) · 2 sources agree")
	d.says("not cross-checked")
	d.says("Easily taken for")
	if d.Card.Designation != "AN3-5A" {
		t.Errorf("the card is of %q", d.Card.Designation)
	}
	d.tap("AN3-6A")
	if want := (routes.Route{Screen: routes.Handbook, About: "AN3-6A"}); d.Route != want {
		t.Errorf("a look-alike leads to %+v, want %+v", d.Route, want)
	}
	d.Act(findID)
	if want := (routes.Route{Screen: routes.Find, About: "AN3-5A"}); d.Route != want {
		t.Errorf("where it is leads to %+v, want %+v", d.Route, want)
	}
	if !d.p.Query("AN3-8") {
		t.Error("the command bar is not followed")
	}
	d.Drain()
	d.says("AN3-8 does not exist")
	d.press("2")
	if want := (routes.Route{Screen: routes.Handbook, About: "AN3-10"}); d.Route != want || !d.Card.Empty() {
		t.Errorf("the second neighbour leads to %+v with the card of %q, want %+v", d.Route, d.Card.Designation, want)
	}
	saved := d.p.Saved()
	again := open(t, LookUpPart, "")
	again.p.Restore(saved)
	again.Drain()
	again.says("AN3-8 does not exist")
	again.p.Query("AN960-10")
	again.Drain()
	again.press("N")
	if again.Route.About != "NAS1149F0363P" {
		t.Errorf("the successor leads to %+v", again.Route)
	}
}

// A piece is drawn at true size once the screen was measured with a ruler.
func TestTrueSize(t *testing.T) {
	d := open(t, LookUpPart, "AN3-5A")
	d.says("drawn to scale")
	d.press("T")
	if d.Dialog == nil {
		t.Fatal("the screen is not measured first")
	}
	entry := func(text string) {
		walk(d.Dialog, func(o fyne.CanvasObject) bool {
			if e, ok := o.(*look.Entry); ok {
				e.SetText(text)
			}
			return false
		})
		d.Dialog.Key("Enter")
	}
	entry("long")
	if scale() != 0 {
		t.Errorf("a scale of %v from no length", scale())
	}
	entry("100 mm")
	d.says("at true size on this screen")
	var side float32 // width of the first picture, the side view
	walk(d.p.Object(), func(o fyne.CanvasObject) bool {
		if p, ok := o.(*look.PieceView); ok {
			side = p.MinSize().Width
		}
		return side > 0
	})
	// NASM3-20: AN3-5A is 21/32 long under a head 1/8 high; 4 points to the millimetre.
	if long := float32((21.0/32 + 1.0/8) * 25.4 * 4); scale() != 4 || side < long || side > long+150 {
		t.Errorf("at %v points to the millimetre the side view is %v wide, want %v and its dimensions", scale(), side, long)
	}
	d.press("T")
	d.says("drawn to scale")
}

func TestParseScale(t *testing.T) {
	for _, row := range []struct {
		text string
		want float64 // 0: refused
	}{
		{"100 mm", 4},
		{" 200mm ", 2},
		{"4", 400 / 101.6},
		{"4-3/16 in", 400 / 106.3625},
		{"", 0},
		{"long", 0},
		{"5 mm", 0},
		{"0", 0},
		{"300 ft", 0},
	} {
		got, err := ParseScale(row.text, rulerPoints)
		if (err != nil) != (row.want == 0) || got-row.want > 1e-9 || row.want-got > 1e-9 {
			t.Errorf("ParseScale(%q) = %v, %v; want %v", row.text, got, err, row.want)
		}
	}
}

func TestMeasureView(t *testing.T) {
	d := open(t, MeasurePart, "")
	if d.w.Canvas().Focused() == nil {
		t.Error("nothing has the focus")
	}
	d.w.Canvas().Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if d.w.Canvas().Focused() != nil || d.Route.Screen != "" {
		t.Errorf("Esc in the field leads to %+v with the focus on %v", d.Route, d.w.Canvas().Focused())
	}
	d.fill("3/16 or #10", ".190")
	d.choose("Bolt", 1) // what is it
	d.fill("1/4", "1/4")
	d.choose("Not looked", 1) // the first one: the magnet
	d.says("in the shop")
	d.says("Cannot tell:")
	if d.Card.Designation != "AN3-5A" {
		t.Errorf("the card is of %q", d.Card.Designation)
	}
	d.Act(lookUpID)
	if d.Route.About != "AN3-5A" {
		t.Errorf("all figures leads to %+v", d.Route)
	}
	list := d.p.Results().(*look.RowList)
	list.Choose(1)
	d.Drain()
	if row, _ := list.Chosen(); d.Card.Designation != row.ID {
		t.Errorf("the card is of %q, the row of %q", d.Card.Designation, row.ID)
	}
	again := open(t, MeasurePart, "")
	again.p.Restore(d.p.Saved())
	again.Drain()
	again.says("Cannot tell:")
	again.says(".190")
	d.fill("3/16 or #10", "thick")
	d.says("write it like .190")
	d.press("C")
	d.says("Measure what you can")
	if d.p.Query("an3") {
		t.Error("the command bar is taken from Find")
	}
}

func TestChooserViews(t *testing.T) {
	d := open(t, BoltPart, "")
	d.fill("1/8, 3/16", "spar .125, rib 3/16")
	d.says("2 bolts fit a stack of 5/16")
	d.says("rib 3/16") // in the section
	d.choose("AN310-3", 2)
	d.says("Castle nut")
	d.choose("AN310-3", 4)
	d.fill("a designation", "AN310-4")
	d.says("Nut AN310-4 has thread 1/4-28")
	d.fill("a designation", "")
	d.choose("Thin", 1)
	d.choose("Plain", 1)
	d.fill("of the tables", ".25")
	d.says("AN3H")
	saved := d.p.Saved()
	d.fill("AN3, AN4, NAS6203", "AN9")
	d.says("no published table gives the grip")
	again := open(t, BoltPart, "")
	again.p.Restore(saved)
	again.Drain()
	again.says("a stack of 5/16")
	again.says("AN3H")

	r := open(t, RivetPart, ".032, .032")
	r.says("by the rule")
	r.choose("Both", 2)
	r.choose("AD", 1)
	r.fill("by the rule", "1/8")
	r.says("AN426A4-4")
	saved = r.p.Saved()
	rivets := open(t, RivetPart, "")
	rivets.p.Restore(saved)
	rivets.Drain()
	rivets.says("AN426A4-4")
	rivets.p.Results().(*look.RowList).TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if rivets.Route.About != "AN426A4-4" {
		t.Errorf("opening a rivet leads to %+v", rivets.Route)
	}
}

func TestTablesView(t *testing.T) {
	d := open(t, TablesPart, "")
	d.says("AN3 to AN20")
	d.says("AC 43.13-1B ch. 7")
	d.choose("AN4", 1)
	d.says("AN4-3")
	again := open(t, TablesPart, "")
	again.p.Restore(d.p.Saved())
	again.says("AN4-3")
	d.p.Query("zzz")
	d.says("No table answers to that")
	d.p.Query("washer")
	d.says("AN960")
	if open(t, TorquePart, "").Side == nil {
		t.Error("the cautions of the torque table are not shown")
	}
}

func TestOwnView(t *testing.T) {
	d := open(t, OwnPart, "")
	d.says("No figures of your own yet")
	d.press("Enter")
	d.says("The number is empty")
	d.fill("AN7-10", "AN7-10")
	d.fill("sheet AN3-AN20, page 2", "printed sheet")
	d.fill("7/16", "7/16")
	d.press("Enter")
	d.says("from printed sheet")
	if !strings.Contains(d.Said.Lead+" "+d.Said.Text, "own figures of AN7-10") {
		t.Errorf("it said %q", d.Said.Lead+" "+d.Said.Text)
	}
	list := d.p.Results().(*look.RowList)
	list.Choose(0)
	list.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if d.Route.About != "AN7-10" {
		t.Errorf("opening the row leads to %+v", d.Route)
	}
	d.press("Del")
	d.says("No figures of your own yet")
}
