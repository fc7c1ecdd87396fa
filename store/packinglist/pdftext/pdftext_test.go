package pdftext

import (
	"bytes"
	"context"
	"errors"
	"math/rand/v2"
	"os"
	"sort"
	"strings"
	"testing"

	"github.com/jung-kurt/gofpdf"
)

// shared is one for all tests of the package: it takes long to begin.
var shared *Reader

func TestMain(m *testing.M) {
	var err error
	if shared, err = NewReader(); err != nil {
		panic(err)
	}
	code := m.Run()
	shared.Close()
	os.Exit(code)
}

// made is a PDF by a writer that is not ours, with two texts a page: "upper" above and left
// of "lower". Turn is how the letters are turned, counterclockwise in degrees.
func made(t testing.TB, turn float64, pages int) []byte {
	t.Helper()
	pdf := gofpdf.New("P", "pt", "A4", "")
	for range pages {
		pdf.AddPage()
		pdf.SetFont("Helvetica", "", 12)
		pdf.TransformBegin()
		pdf.TransformRotate(turn, 300, 400)
		pdf.Text(250, 380, "upper")
		pdf.Text(330, 420, "lower")
		pdf.TransformEnd()
	}
	var buf bytes.Buffer
	if err := pdf.Output(&buf); err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

// Texts come upright with where they stand, however the page is turned.
func TestUpright(t *testing.T) {
	for _, turn := range []float64{0, 90, 180, 270} {
		pages, err := shared.Read(context.Background(), made(t, turn, 2))
		if err != nil || len(pages) != 2 {
			t.Fatalf("turned by %v: %d pages, %v", turn, len(pages), err)
		}
		texts := pages[1].Texts
		sort.Slice(texts, func(i, j int) bool { return texts[i].Top < texts[j].Top })
		if len(texts) != 2 || strings.TrimSpace(texts[0].Text) != "upper" || strings.TrimSpace(texts[1].Text) != "lower" {
			t.Fatalf("turned by %v: %+v", turn, texts)
		}
		a, b := texts[0], texts[1]
		if d := b.Left - a.Left; d < 79 || d > 81 {
			t.Errorf("turned by %v: lower begins %.1f to the right of upper, want 80", turn, d)
		}
		if d := b.Bottom - a.Bottom; d < 36 || d > 44 || a.Right-a.Left < a.Bottom-a.Top {
			t.Errorf("turned by %v: lower is %.1f below upper, want 40; %+v", turn, d, a)
		}
	}
}

// What is no whole PDF is refused before the engine is asked.
func TestRefused(t *testing.T) {
	good := made(t, 0, 1)
	noise := make([]byte, 4<<20)
	for i := range noise {
		noise[i] = byte(rand.New(rand.NewPCG(1, uint64(i/4096))).Uint32())
	}
	for name, data := range map[string][]byte{
		"only a beginning": []byte("%PDF-1.7\n"), "noise": append([]byte("%PDF-1.7\n"), noise...), "cut in half": good[:len(good)/2],
		"cut at its end": good[:len(good)-12], "a table that is elsewhere": bytes.Replace(good, []byte("startxref\n"), []byte("startxref\n9"), 1),
		"a table that is none": []byte("%PDF-1.7\n%%EOF\nstartxref\n0\n%%EOF\n"),
	} {
		shared.gone = -1
		if _, err := shared.Read(t.Context(), data); !errors.Is(err, ErrDamaged) {
			t.Errorf("%s: %v", name, err)
		}
		if shared.gone != -1 {
			t.Errorf("%s: the engine was asked, for %d steps", name, shared.gone)
		}
	}
}

// A file with any of its bytes changed is read or refused, and takes neither the program
// nor its time.
func TestChangedBytes(t *testing.T) {
	good := made(t, 0, 1)
	r := rand.New(rand.NewPCG(7, 7))
	n := 60
	if testing.Short() {
		n = 15
	}
	for range n {
		data := bytes.Clone(good)
		for range 1 + r.IntN(20) {
			data[r.IntN(len(data))] = byte(r.Uint32())
		}
		pages, err := shared.Read(context.Background(), data)
		if err != nil && !errors.Is(err, ErrDamaged) && !errors.Is(err, ErrLocked) {
			t.Errorf("another error: %v", err)
		}
		if most := patience.first + int64(len(pages)+1)*patience.page + slice; shared.gone > most {
			t.Errorf("%d pages after %d steps, want at most %d", len(pages), shared.gone, most)
		}
	}
}

// A page with a picture alone has no text.
func TestNoText(t *testing.T) {
	pdf := gofpdf.New("P", "pt", "A4", "")
	pdf.AddPage()
	pdf.Rect(20, 20, 200, 300, "F")
	var buf bytes.Buffer
	if err := pdf.Output(&buf); err != nil {
		t.Fatal(err)
	}
	pages, err := shared.Read(context.Background(), buf.Bytes())
	if err != nil || len(pages) != 1 || len(pages[0].Texts) != 0 {
		t.Errorf("%+v, %v", pages, err)
	}
}
