package scan

import (
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"
)

// photographs are test pictures that lie in the general library's module: the first
// set is of printed codes as telephones took them, the second looks computer-drawn
// for the most part. They come from the ZXing project (Apache License 2.0). None shows a tag of ours: they measure the reading
// of other makers' codes, and that none is taken for a tag.
func photographs(t *testing.T) (files []string) {
	t.Helper()
	out, err := exec.CommandContext(t.Context(), "go", "list", "-m", "-f", "{{.Dir}}", "github.com/makiuchi-d/gozxing").Output()
	if err != nil {
		t.Skipf("THE GENERAL LIBRARY'S PHOTOGRAPHS ARE NOT THERE, and not read: %v", err)
	}
	for _, set := range []string{"qrcode-1", "qrcode-6"} {
		found, err := filepath.Glob(filepath.Join(strings.TrimSpace(string(out)), "qrcode", "testdata", set, "*.png"))
		if err != nil || len(found) < 10 {
			t.Skipf("THE GENERAL LIBRARY'S PHOTOGRAPHS %s ARE NOT THERE, and not read: %v", set, err)
		}
		files = append(files, found...)
	}
	return files
}

// Photographs of real codes: everything that the general library reads by itself is
// read, and no tag is seen where there is none.
func TestPhotographs(t *testing.T) {
	inFull(t)
	ours, general, zbar, zxingcpp := 0, 0, 0, 0
	files := photographs(t)
	for _, file := range files {
		picture, err := Open(file)
		if err != nil {
			t.Fatal(err)
		}
		report, err := New().Read(t.Context(), picture, Options{Issued: Issue(madeTags(2000)), Budget: time.Minute})
		if err != nil {
			t.Fatal(err)
		}
		read := map[string]bool{}
		for _, code := range report.Codes {
			read[code.Text] = true
			if code.Tag {
				t.Errorf("%s: %q %v is no tag of ours", file, code.Text, code.How)
			}
		}
		count(&ours, len(read) > 0)
		bitmap, err := gozxing.NewBinaryBitmapFromImage(picture)
		if err != nil {
			t.Fatal(err)
		}
		if result, err := qrcode.NewQRCodeReader().Decode(bitmap, nil); err == nil {
			general++
			if !read[result.GetText()] {
				t.Errorf("%s: %q is read by the general library alone only", file, result.GetText())
			}
		}
		if testing.Verbose() {
			count(&zbar, len(wordsOf("zbarimg", "-q", "--raw", "--nodbus", "-Sdisable", "-Sqrcode.enable", file)) > 0)
			count(&zxingcpp, wordsOf("ZXingReader", file)["QRCode"])
		}
	}
	t.Logf("%d photographs: %d read, gozxing %d, zbarimg %d, ZXingReader %d", len(files), ours, general, zbar, zxingcpp)
}
