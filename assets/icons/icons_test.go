package icons

import (
	"encoding/xml"
	"testing"
)

// Every named icon must be there and be whole XML: a broken one shows as a gap.
func TestEveryIconIsWholeSVG(t *testing.T) {
	for _, name := range Names() {
		t.Run(name, func(t *testing.T) {
			var root struct {
				XMLName xml.Name
				ViewBox string `xml:"viewBox,attr"`
			}
			if err := xml.Unmarshal(SVG(name), &root); err != nil {
				t.Fatalf("icon %q: %v", name, err)
			}
			if root.XMLName.Local != "svg" || root.ViewBox != "0 0 24 24" {
				t.Errorf("icon %q: got root %q with view box %q, want svg with 0 0 24 24", name, root.XMLName.Local, root.ViewBox)
			}
		})
	}
}

func TestUnknownIcon(t *testing.T) {
	if got := SVG("../icons"); got != nil {
		t.Errorf("SVG(%q): got %d bytes, want nil", "../icons", len(got))
	}
}
