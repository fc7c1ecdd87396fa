package building

import (
	"strings"
	"testing"

	"stowright/app/apptest"

	"fyne.io/fyne/v2"

	"stowright/app/gallery"
	"stowright/app/look"
	"stowright/app/routes"
	"stowright/app/session/sessiontest"
	"stowright/store/measure"
)

// ticker is the page of the ticks with what it came to.
type ticker struct {
	*TicksModel
	b             *sessiontest.Bench
	entered, asks string
	reason        string // given where one is asked for
}

func ticksFor(b *sessiontest.Bench, codes ...string) *ticker {
	m := &ticker{b: b}
	m.TicksModel = NewTicksModel(b.Session, codes, func(TicksState) {}, func(words string) { m.entered = words }, func(question string, back func(string)) {
		if m.asks = question; m.reason != "" {
			back(m.reason)
		}
	})
	m.Load()
	b.Drain()
	return m
}

// down fills the column, each text and Enter.
func (m *ticker) down(texts ...string) {
	for _, text := range texts {
		m.Type(text)
		m.Next()
	}
	m.b.Drain()
}

func (m *ticker) enterAll() {
	m.Enter()
	m.b.Drain()
}

// marks are what the rows of the column say: "A-03 212 taken".
func (m *ticker) marks() string {
	var lines []string
	for _, row := range m.State().Rows {
		lines = append(lines, strings.Join([]string{row.Cells[1].Text, row.Cells[4].Text, row.Cells[5].Mark.Word}, " "))
	}
	return strings.Join(lines, "\n")
}

// What was ticked on paper is entered down the column, for two trays, and booked at the
// end; what was not ticked stays on the list.
func TestTicks(t *testing.T) {
	b := extended(t, true)
	m := ticksFor(b, "SA-10", "SA-21")
	if s := m.State(); s.Title != "Ticked on paper: SA-10 Fin and SA-21 Rudder hinges" || s.Ask != "A-03, AN426AD3-3.5: 212 ea on the list" || len(s.Rows) != 5 {
		t.Fatalf("%+v", s)
	}
	before := b.Journal()
	m.down("n", "a", "7", "", ".")
	apptest.Compare(t, "the column", m.marks(), "A-03 n none taken\nA-12 a taken\nA-17 7 taken\nA-21  not ticked\nA-30 . taken")
	if s := m.State(); s.Filled != 3 || b.Journal() != before {
		t.Errorf("%d filled, %d entries before it is booked", s.Filled, b.Journal()-before)
	}
	m.enterAll()
	if m.entered != "3 stops booked as ticked" {
		t.Fatalf("entered %q, %q", m.entered, m.State().Problem)
	}
	for code, want := range map[string]string{"SA-10": "AN3-5A 6, AN365-1032A 6, NAS1149F0363P 12", "SA-21": "AN3-5A 20, AN365-1032A 1, NAS1149F0363P 40"} {
		heaps, err := b.Shop.Contents(b.Place(code).ID)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, h := range heaps {
			got = append(got, h.Item+" "+h.Amount.Figure())
		}
		if strings.Join(got, ", ") != want {
			t.Errorf("the tray of %s holds %v, want %s", code, got, want)
		}
	}
	m.Load()
	b.Drain()
	apptest.Compare(t, "what is left", m.marks(), "A-03  not ticked\nA-17  not ticked\nA-21  not ticked")
}

// A text that is no count stays in hand and says why; one stop that is refused keeps all
// of the column out, and with a reason more than is called goes.
func TestTicksRefused(t *testing.T) {
	b := extended(t, true)
	m := ticksFor(b, "SA-20")
	before := b.Journal()
	m.down("some")
	if s := m.State(); !strings.HasPrefix(s.Problem, `"some" is not an amount`) || s.Row != 0 || s.Rows[0].Cells[5].Mark.Word != "not a count" {
		t.Errorf("%+v", s)
	}
	m.enterAll()
	if s := m.State(); s.Problem == "" || b.Journal() != before {
		t.Errorf("booked all the same: %+v", s)
	}
	m.Type("")
	m.enterAll()
	if s := m.State(); s.Problem != "Nothing is ticked: type how many were taken, or a for all." {
		t.Errorf("an empty column: %q", s.Problem)
	}
	m.Type("8")
	m.enterAll()
	if !strings.HasPrefix(m.asks, "MS21042-3 for SA-20: 6 called, 0 pulled: 6 to go.") || b.Journal() != before || m.entered != "" {
		t.Errorf("8 of 6: asked %q, entered %q", m.asks, m.entered)
	}
	m.reason = "two spare"
	m.enterAll()
	if m.entered != "1 stop booked as ticked" || b.Heap("SA-20").Amount.Figure() != "8" {
		t.Errorf("entered %q, %q", m.entered, m.State().Problem)
	}
	m.Load()
	b.Drain()
	if s := m.State(); s.Note != "Nothing is left on the list." || s.Row != -1 {
		t.Errorf("%+v", s)
	}
	if s := ticksFor(b, "SA-99").State(); !strings.Contains(s.Problem, `"SA-99"`) {
		t.Errorf("a code that there is none of: %+v", s)
	}
}

// Enter goes down to the end of the column, where the field is left; a reason is asked for
// in the window.
func TestTicksPage(t *testing.T) {
	look.Theme{}.Apply()
	b := extended(t, true)
	f := window(b, routes.Route{Part: TickPart, About: "SA-20"})
	p := f.Page().(*TicksPage)
	p.field.SetText("8")
	p.field.OnSubmitted("8")
	p.enter.Tapped(nil)
	b.Drain()
	if b.Heap("A-22").Amount.Quantity != measure.Pieces(20) {
		t.Errorf("booked without a reason: %s left", b.Heap("A-22").Amount)
	}
	p.HandleKey("Up")
	if s := p.model.State(); s.Row != 0 || p.field.Text != "8" || p.HandleKey("Q") {
		t.Errorf("%+v, the field holds %q", s, p.field.Text)
	}
	pictured(t, gallery.State{Name: "build-ticks", Width: gallery.Width, Height: gallery.Height, Make: func() fyne.CanvasObject {
		f := window(b, routes.Route{Part: TickPart, About: "SA-10,SA-21"})
		p := f.Page().(*TicksPage)
		for _, text := range []string{"a", "n", "7", "some"} {
			p.model.Type(text)
			p.model.Next()
		}
		return f.Object()
	}})
}
