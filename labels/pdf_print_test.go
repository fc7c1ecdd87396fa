package labels

import (
	"bytes"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// pdfEntry is where an object is, in the list of them. Source: ISO 32000-1, 7.5.4.
var pdfEntry = regexp.MustCompile(`(?m)^(\d{10}) 00000 n $`)

// A viewer is told to print each file at its real size, and finds every object where the
// list of them says. Source: ISO 32000-1, 12.2 (table 150) and 7.5.5.
func TestPDFPrintsTrue(t *testing.T) {
	runs, err := runsOf("SP7K3M9QXD")
	if err != nil {
		t.Fatal(err)
	}
	for name, doc := range map[string]Document{
		"one page":    {Pages: []Page{{W: 50, H: 50}}},
		"three pages": {Pages: []Page{{W: 50, H: 50}, {W: 210, H: 297}, {W: 62, H: 29}}},
		"what looks like parts of a file": {
			Title: "\n/Type /Catalog\n startxref\n7\n",
			Pages: []Page{{W: 50, H: 50, Items: []Item{Text{X: 5, Y: 9, Size: 3, Text: "startxref"}, Code{X: 5, Y: 5, Module: 1, Size: codeModules, Runs: runs}}}},
		},
	} {
		t.Run(name, func(t *testing.T) {
			pdf := pdfOf(t, doc)
			_, after, _ := bytes.Cut(pdf[bytes.LastIndex(pdf, []byte("startxref")):], []byte("\n"))
			at, err := strconv.Atoi(strings.Fields(string(after))[0])
			if err != nil || !bytes.HasPrefix(pdf[at:], []byte("xref\n")) {
				t.Fatalf("the list of objects is not at %d: %v", at, err)
			}
			root := regexp.MustCompile(`/Root (\d+) 0 R`).FindSubmatch(pdf[at:])
			catalogs := 0
			for i, entry := range pdfEntry.FindAllSubmatch(pdf[at:], -1) {
				offset, err := strconv.Atoi(string(entry[1]))
				object := fmt.Sprintf("%d 0 obj\n", i+1)
				if err != nil || !bytes.HasPrefix(pdf[offset:], []byte(object)) {
					t.Fatalf("object %d is not at %d", i+1, offset)
				}
				body, _, _ := bytes.Cut(pdf[offset:], []byte("\nendobj"))
				if root != nil && string(root[1]) == strconv.Itoa(i+1) {
					catalogs++
					if got := bytes.Count(body, []byte("/ViewerPreferences << /PrintScaling /None >>")); got != 1 || !bytes.Contains(body, []byte("/Type /Catalog")) {
						t.Errorf("the catalog says it %d times:\n%s", got, body)
					}
				}
			}
			if catalogs != 1 || !bytes.HasPrefix(pdf, []byte("%PDF-1.6\n")) {
				t.Errorf("%d catalogs, and it begins with %q", catalogs, pdf[:9])
			}
		})
	}
}

// A file that is not laid out as the library does is refused, not spoiled.
func TestPDFPrintsTrueRefuses(t *testing.T) {
	const whole = "%PDF-1.3\n1 0 obj\n<<\n/Type /Catalog\n>>\nendobj\nxref\nstartxref\n46\n%%EOF\n"
	if _, err := printTrue([]byte(whole)); err != nil {
		t.Fatalf("one that is: %v", err)
	}
	for name, pdf := range map[string]string{
		"nothing":                 "",
		"another version":         strings.Replace(whole, "1.3", "1.4", 1),
		"no catalog":              strings.Replace(whole, "/Catalog", "/Pages", 1),
		"no list of objects":      strings.Replace(whole, "startxref", "startxyz", 1),
		"a list before the rest":  strings.Replace(whole, "\n46\n", "\n9\n", 1),
		"a list behind the end":   strings.Replace(whole, "\n46\n", "\n460\n", 1),
		"a list that is nowhere":  strings.Replace(whole, "\n46\n", "\nhere\n", 1),
		"the catalog comes later": "%PDF-1.3\nstartxref\n9\n\n/Type /Catalog\n",
	} {
		if got, err := printTrue([]byte(pdf)); err == nil {
			t.Errorf("%s gives %q", name, got)
		}
	}
	_, err := trueSize(func(w io.Writer) error {
		_, err := io.WriteString(w, "no PDF")
		return err
	})
	if err == nil {
		t.Error("what is no PDF is written")
	}
}
