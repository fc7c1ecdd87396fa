package viewfinder

import (
	"fmt"
	"image"
	"strings"
	"testing"

	"stowright/app/session"
	"stowright/labels/scan"
)

// codeAt is a reading of a code of 20 pixels a side.
func codeAt(text string, x, y float64) session.Reading {
	return session.Reading{Code: scan.Code{Text: text, Corners: [4]scan.Point{{X: x, Y: y}, {X: x + 20, Y: y}, {X: x + 20, Y: y + 20}, {X: x, Y: y + 20}}}}
}

// A code that is missed stays lit for two pictures, where the others went; not when
// another lies in its place, nor when the camera looks elsewhere.
func TestSteadyLight(t *testing.T) {
	room := func(brightness uint8) image.Image {
		m := image.NewGray(image.Rect(0, 0, 160, 90))
		for i := range m.Pix {
			m.Pix[i] = brightness
		}
		return m
	}
	const bright, dark = 220, 30
	a, b, over := codeAt("a", 10, 10), codeAt("b", 60, 10), codeAt("c", 12, 12)
	for _, row := range []struct {
		name    string
		picture image.Image
		now     [][]session.Reading
		want    string
	}{
		{"missed", room(bright), [][]session.Reading{{a, b}, {b}}, "b 60 a 10"},
		{"missed twice", room(bright), [][]session.Reading{{a, b}, {b}, {b}}, "b 60 a 10"},
		{"gone", room(bright), [][]session.Reading{{a, b}, {b}, {b}, {b}}, "b 60"},
		{"missed, and the camera moves", room(bright), [][]session.Reading{{a, b}, {codeAt("b", 67, 10)}}, "b 67 a 17"},
		{"all missed", room(bright), [][]session.Reading{{a, b}, nil}, "a 10 b 60"},
		{"another in its place", room(bright), [][]session.Reading{{a, b}, {b, over}}, "b 60 c 12"},
		{"looking elsewhere", room(dark), [][]session.Reading{{a, b}, nil}, ""},
		{"elsewhere with another code", room(dark), [][]session.Reading{{a, b}, {codeAt("d", 90, 50)}}, "d 90"},
	} {
		t.Run(row.name, func(t *testing.T) {
			var s steady
			var lit []session.Reading
			for i, now := range row.now {
				picture := room(bright)
				if i == len(row.now)-1 {
					picture = row.picture
				}
				lit = s.take(picture, now)
			}
			var got []string
			for _, r := range lit {
				got = append(got, fmt.Sprint(r.Code.Text, " ", r.Code.Corners[0].X))
			}
			if text := strings.Join(got, " "); text != row.want {
				t.Errorf("lit are %q, want %q", text, row.want)
			}
		})
	}
}
