package look

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"

	"stowright/app/notice"
)

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
