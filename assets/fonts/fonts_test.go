package fonts

import (
	"strings"
	"testing"

	"golang.org/x/image/font/sfnt"
)

// TestFaces reads every face with an independent parser and asks it for what a
// label or a screen prints: designations, fractions of an inch, the sign of a
// look-alike.
func TestFaces(t *testing.T) {
	for _, face := range Faces() {
		t.Run(face.String(), func(t *testing.T) {
			f, err := sfnt.Parse(face.TrueType())
			if err != nil {
				t.Fatalf("parse %s: %v", face, err)
			}
			var buf sfnt.Buffer
			for _, r := range "AN470AD4-7 \"3/16\" .250 ≠ · × – — é ½" {
				if index, err := f.GlyphIndex(&buf, r); err != nil || index == 0 {
					t.Errorf("%s: glyph for %q: index %d, error %v, want one", face, r, index, err)
				}
			}
			name, err := f.Name(&buf, sfnt.NameIDFamily)
			if err != nil || !strings.HasPrefix(name, "Atkinson Hyperlegible") {
				t.Errorf("%s: family %q, error %v, want Atkinson Hyperlegible", face, name, err)
			}
		})
	}
}

func TestNoSuchFace(t *testing.T) {
	if got := Face(99).TrueType(); got != nil {
		t.Errorf("Face(99).TrueType() = %d bytes, want nil", len(got))
	}
	if got := Face(99).String(); got != "unknown face" {
		t.Errorf("Face(99).String() = %q", got)
	}
}

func TestLicence(t *testing.T) {
	for _, want := range []string{"Mono Project Authors", "Next Project Authors", "SIL OPEN FONT LICENSE Version 1.1"} {
		if !strings.Contains(Licence(), want) {
			t.Errorf("licence lacks %q", want)
		}
	}
}
