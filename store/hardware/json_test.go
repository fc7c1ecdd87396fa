package hardware

import (
	"encoding/json"
	"strings"
	"testing"
)

func TestDocumented(t *testing.T) {
	b, err := json.Marshal(Documented(Decode("an3-5 a"), Decode("AN3-8"), Decode("OQ-10-001"), Decode("AN960-10L")))
	if err != nil {
		t.Fatal(err)
	}
	got := string(b)
	for _, want := range []string{
		`{"results":[{"input":"an3-5 a","designation":"AN3-5A","known":true,"kind":"bolt",`,
		`{"name":"grip","in":"0.25","text":"1/4 (0.250) ±1/64","unit":"in","source":"NASM3-20 (AN3-AN20)","checked":2,"mark":""}`,
		`{"name":"shank_drilled","in":"","text":"no","unit":"","source":`,
		`{"designation":"AN3-6A","difference":"1/8 longer in the grip"}`,
		`"known":false,"kind":"bolt","family":"AN3 to AN20: Bolt","title":"","fields":[],"superseded_by":""`,
		`"nearest":["AN3-7","AN3-10"]`,
		`{"input":"OQ-10-001","designation":"","known":false,"kind":"","family":"","title":"","fields":[],`,
		`"superseded_by":"NAS1149F0332P"`,
		`"warnings":[]`,
	} {
		if !strings.Contains(got, want) {
			t.Errorf("got %s\nwant it to hold %s", got, want)
		}
	}
	if strings.Contains(got, "null") {
		t.Errorf("got %s\nwant no null", got)
	}
}

func TestMark(t *testing.T) {
	tests := []struct{ name, text, want string }{
		{"published row", "AN3-5A", ""},
		{"formula row", "AN3-16A", NotCrossChecked},
		{"length from memory", "AN7-10A", NotCrossChecked},
		{"rivet by rule", "AN470AD4-7", ""},
		{"pin from memory", "MS24665-132", NotCrossChecked},
		{"washer seen in a drawing", "NAS1149F0363P", ""},
		{"washer from memory", "NAS1149F0463P", NotCrossChecked},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := Decode(tt.text).Mark(); got != tt.want {
				t.Errorf("%s: got %q, want %q", tt.text, got, tt.want)
			}
		})
	}
}
