package look

import (
	"testing"

	"fyne.io/fyne/v2"

	"stowright/app/card"
	"stowright/app/notice"
)

// A table of facts is as high as its texts need at any width, names, words and
// sources never overlap, and no line is wider than its column.
func TestFactsKeepApart(t *testing.T) {
	start(t, Theme{Mode: Light})
	facts := []card.Fact{
		{Name: "grip", Text: "1/4 (0.25) ±1/64", Source: "a standard with a long name, its second table and a note on it · 2 sources agree"},
		{Name: "shank diameter", Text: "0.186 to 0.189, a sentence that goes on for long enough to need a second line in its column", Mark: "not cross-checked", Tone: notice.Warn, Source: "a standard"},
		{Name: "kind", Text: "bolt"},
	}
	f := NewFacts(facts...)
	for _, width := range []float32{240, 380, 619, 621, 900} {
		f.Resize(fyne.NewSize(width, f.HeightFor(width)))
		var bottom float32
		for i := 0; i < len(f.body.Objects); i += factParts {
			part := f.body.Objects[i : i+factParts]
			for k, o := range part[:4] {
				if !o.Visible() {
					continue
				}
				if o.Position().Y < bottom || o.Position().X+o.Size().Width > width+0.5 {
					t.Errorf("%v wide: part %d of %q lies at %v in a row from %v", width, k, facts[i/factParts].Name, o.Position(), bottom)
				}
				if p := o.(*Paragraph); p.HeightFor(o.Size().Width) > o.Size().Height+0.5 {
					t.Errorf("%v wide: %q is cut", width, p.Text())
				}
			}
			bottom = part[4].Position().Y
		}
		if h := f.HeightFor(width); bottom > h {
			t.Errorf("%v wide: the last fact ends at %v of %v", width, bottom, h)
		}
	}
	if narrow, wide := f.HeightFor(380), f.HeightFor(900); narrow <= wide {
		t.Errorf("height: %v narrow, %v wide", narrow, wide)
	}
	f.SetFacts(facts[2:])
	if got := len(f.body.Objects); got != factParts {
		t.Errorf("one fact left: %d objects", got)
	}
}

// Words that are bold throughout are broken where they are drawn: by their own
// spaces, which are wider than those of regular text.
func TestBoldTextFitsItsWidth(t *testing.T) {
	start(t, Theme{Mode: Light, Shop: true})
	p := NewLead("The nut can be drawn up 1/8 past the shank, and so on, until the line is full of short words as it is here", "")
	for width := float32(200); width < 900; width += 7 {
		p.Resize(fyne.NewSize(width, p.HeightFor(width)))
		for _, line := range p.lines(width) {
			for _, run := range runs(line) {
				if w := p.bold.width(run.text); w > width+1 {
					t.Fatalf("%v wide: %q is %v wide", width, run.text, w)
				}
			}
		}
	}
}
