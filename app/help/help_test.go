package help

import (
	"strings"
	"testing"

	"stowright/app/routes"
	"stowright/labels"
)

// all are the screens that have a page.
func all() []Screen {
	var screens []Screen
	for _, name := range []string{
		routes.Today, routes.Unpack, routes.Find, routes.Places, routes.Labels, routes.Build, routes.Order, routes.Handbook,
		routes.Camera, routes.Copies, routes.Photos,
	} {
		screens = append(screens, Screen{Name: name, Title: strings.ToUpper(name[:1]) + name[1:]})
	}
	return screens
}

// Every screen has keys, each said once in a place, and the plans govern on each.
func TestScreens(t *testing.T) {
	for _, s := range append(all(), Screen{Name: "everywhere"}) {
		keys := Of(s.Name)
		if s.Name == "everywhere" {
			keys = Everywhere()
		}
		if len(keys) < 2 {
			t.Errorf("%s has %d keys", s.Name, len(keys))
		}
		for _, k := range keys {
			if k.Key == "" || k.Does == "" || strings.HasSuffix(k.Does, ".") {
				t.Errorf("%s: %+v", s.Name, k)
			}
		}
		if c := Cautions(s.Name); !strings.Contains(c[len(c)-1], "govern") {
			t.Errorf("%s: the cautions are %q", s.Name, c)
		}
	}
}

// The card has a table for every screen with all its keys, and fits two sheets on both sides.
func TestCard(t *testing.T) {
	p := Card(append(all(), Screen{Name: "nowhere"}))
	if got, want := len(p.Blocks), len(all())+1; got != want {
		t.Errorf("%d tables, want %d: no screen but those with keys", got, want)
	}
	for i, s := range all() {
		said := 0
		for _, row := range p.Blocks[i+1].Rows {
			for _, at := range []int{0, 2} {
				if row[at] != "" {
					said++
				}
			}
		}
		if want := len(Of(s.Name)); said != want || p.Blocks[i+1].Heading != s.Title {
			t.Errorf("%s: %d of %d keys under %q", s.Name, said, want, p.Blocks[i+1].Heading)
		}
	}
	doc, err := p.Layout(labels.Stocks()[0])
	if err != nil || len(doc.Pages) > 4 {
		t.Errorf("%d pages, %v", len(doc.Pages), err)
	}
}
