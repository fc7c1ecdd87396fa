package stockdialog

import (
	"image/color"
	"regexp"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"

	"stowright/app/demo"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/operation"
	"stowright/app/session"
	"stowright/app/session/sessiontest"
	"stowright/store/measure"
)

// asker shows questions on a canvas, as the window does.
type asker struct {
	canvas fyne.Canvas
	dialog *look.Dialog
	said   notice.Notice
}

func (a *asker) Ask(d *look.Dialog, first fyne.Focusable) { a.dialog = d; d.Open(a.canvas, first) }
func (a *asker) Say(n notice.Notice)                      { a.said = n }
func (a *asker) Hush() bool                               { return false }

// Story 8 by keys: Partner and Youngster count A-30 without seeing the figure of the shop or
// of each other; the counts differ, and a third settles it.
func TestBlindByKeys(t *testing.T) {
	look.Theme{}.Apply()
	b := sessiontest.Open(t, demo.Unpacked)
	window := test.NewTempWindow(t, look.NewText("150 pieces"))
	window.Resize(fyne.NewSize(1280, 800))
	host := &asker{canvas: window.Canvas()}
	AskBlind(b.Session, host, b.Heap("A-30"))
	b.Drain()
	typed := func(texts ...string) {
		for _, text := range texts {
			e := window.Canvas().Focused().(*look.Entry)
			e.SelectAll()
			for _, r := range text {
				e.TypedRune(r)
			}
			e.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
			b.Drain()
		}
	}
	tag := regexp.MustCompile(`<[^>]*>`)
	shown := func() string { return tag.ReplaceAllString(test.RenderObjectToMarkup(host.dialog), " ") }
	if strings.Contains(shown(), "150") {
		t.Error("the question shows what the shop thinks is there")
	}
	ground := color.NRGBAModel.Convert(theme.Color(theme.ColorNameBackground))
	if got := color.NRGBAModel.Convert(window.Canvas().Capture().At(10, 10)); got != ground {
		t.Errorf("behind the question the window is seen: %v, want the ground %v", got, ground)
	}
	typed("Partner", "150")
	if m := shown(); strings.Contains(m, "150") || !strings.Contains(m, "Another hand counts now") {
		t.Error("after the first count its figure is shown, or no other hand is asked for")
	}
	typed("Partner", "150")
	if m := shown(); !strings.Contains(m, "Partner counted NAS1149F0363P") {
		t.Error("the same hand counts twice")
	}
	look.FocusOn(window.Canvas().Focused().(*look.Entry))
	host.dialog.Close()
	AskBlind(b.Session, host, b.Heap("A-30")) // left, and gone on with
	b.Drain()
	typed("Youngster", "148")
	if m := shown(); !strings.Contains(m, "Counts differ: count again") || strings.Contains(m, "148") || strings.Contains(m, "150") {
		t.Errorf("two counts that differ are shown, or not asked for again: %s", strings.Join(strings.Fields(m), " "))
	}
	typed("Builder", "150")
	if !strings.Contains(host.said.Text, "150 ea (150 by Partner") || !strings.Contains(host.said.Text, "148 by Youngster") {
		t.Errorf("settled: %+v", host.said)
	}
	if got := b.Heap("A-30").Amount.String(); got != "150 ea" {
		t.Errorf("A-30 holds %s", got)
	}
}

// Nobody's count is none, a weighing is one, and what is no count stays in the question.
func TestBlindAnswers(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	m := NewBlind(b.Session, b.Heap("A-30"), func(BlindState) {})
	m.Load()
	b.Drain()
	for _, row := range []struct{ hand, count, want string }{{" ", "150", "Say who counts"}, {"Partner", "many", "many"}, {"Partner", "", ""}} {
		m.Count(row.hand, row.count)
		b.Drain()
		if s := m.State(); s.Problem == "" || !strings.Contains(s.Problem, row.want) || s.Counts != 0 {
			t.Errorf("%q counts %q: %+v", row.hand, row.count, s)
		}
	}
	tenths := func(n int64) measure.Quantity {
		return measure.Quantity{Micro: n * measure.Of(1, measure.Gram).Micro / 10, Unit: measure.Gram}
	}
	m.Weighed("Partner", measure.Weighing{Step: tenths(1), Gross: tenths(1500), Sample: measure.Sample{Pieces: 50, Net: tenths(500), Step: tenths(1)}})
	b.Drain()
	if s := m.State(); s.Problem != "" || s.Counts != 1 {
		t.Fatalf("weighed: %+v", s)
	}
	m.Count("Youngster", "150")
	b.Drain()
	if s := m.State(); !strings.Contains(s.Done, "150 ea (about 150 (") {
		t.Errorf("a count within what was weighed: %+v", s)
	}
}

// The second count of a line of a packing list is weighed by the same question as that of a
// heap: what was found is the first count, and neither is shown.
func TestALineIsWeighedBlind(t *testing.T) {
	b := sessiontest.Open(t, demo.Arrived)
	if _, err := (operation.Receive{Line: 41, Found: "8"}).Do(t.Context(), b.Session); err != nil {
		t.Fatal(err)
	}
	line, err := operation.LineOf(b.Session, "", 41) // AN3-7A
	if err != nil {
		t.Fatal(err)
	}
	heap, err := session.Answer(b.Session, func(r *session.Reader) (session.Heap, error) { return r.HeapOf(line) })
	if err != nil {
		t.Fatal(err)
	}
	m := NewBlind(b.Session, heap, func(BlindState) {})
	m.line = &line
	m.Load()
	b.Drain()
	gram := func(n int64) measure.Quantity { return measure.Of(n, measure.Gram) }
	weighed := func(hand string, gross int64) BlindState {
		m.Weighed(hand, measure.Weighing{Step: gram(1), Gross: gram(gross), Sample: measure.Sample{Pieces: 5, Net: gram(50), Step: gram(1)}})
		b.Drain()
		return m.State()
	}
	if s := weighed("Partner", 40); s.Counts != 2 || s.Done != "" || !strings.Contains(s.Words, "Counts differ") {
		t.Fatalf("four weighed where eight were counted: %+v", s)
	}
	if s := weighed("Youngster", 80); !strings.Contains(s.Done, "counted blind: 8 ea (8 by ") || !strings.Contains(s.Done, "about 8 (7 to 9) by Youngster") {
		t.Errorf("eight weighed: %+v", s)
	}
}
