package labels

import (
	"bytes"
	"fmt"
	"testing"
)

// BenchmarkLabels lays out and writes as many labels as a shop prints at once,
// and ten times as many.
func BenchmarkLabels(b *testing.B) {
	stock := Stocks()[0]
	for _, n := range []int{1000, 10_000} {
		list := repeat(samples(), n)
		b.Run(fmt.Sprintf("layout/%d", n), func(b *testing.B) {
			for b.Loop() {
				if _, err := Layout(list, stock, Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run(fmt.Sprintf("pdf/%d", n), func(b *testing.B) {
			doc := mustLayout(b, list, stock.Name, Options{})
			var buf bytes.Buffer
			for b.Loop() {
				buf.Reset()
				if err := PDF(&buf, doc, PDFOptions{Made: made}); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(buf.Len()), "file-bytes")
		})
	}
}

// BenchmarkPicture draws a full sheet as the screen shows it.
func BenchmarkPicture(b *testing.B) {
	doc := mustLayout(b, repeat(samples(), 30), "letter-3x10", Options{})
	for b.Loop() {
		if _, err := Picture(doc.Pages[0], 4); err != nil {
			b.Fatal(err)
		}
	}
}
