package exchange

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stowright/store"
	"stowright/store/phototest"
	"stowright/store/storetest"
)

// packed is one file of an archive.
type packed struct {
	name   string
	data   []byte
	method uint16
}

// unpack reads an archive.
func unpack(t testing.TB, archive []byte) (files []packed) {
	t.Helper()
	in, err := zip.NewReader(bytes.NewReader(archive), int64(len(archive)))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range in.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		data, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, packed{f.Name, data, f.Method})
	}
	return files
}

// pack writes an archive.
func pack(t testing.TB, files []packed) []byte {
	t.Helper()
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, f := range files {
		to, err := w.CreateHeader(&zip.FileHeader{Name: f.name, Method: f.method})
		if err == nil {
			_, err = to.Write(f.data)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// archived is the archive of a shop with three photographs, of which one was taken away.
func archived(t *testing.T) []byte {
	t.Helper()
	shop := storetest.Open(t, store.Options{})
	shelf, _, err := shop.AddPlace(store.Place{Kind: store.Shelf, Name: "S1"})
	for i := range uint64(3) {
		if err == nil {
			_, _, err = shop.AddPhoto(store.OfPlace(shelf.ID), "", phototest.JPEG(300, 200, i))
		}
	}
	if err == nil {
		_, err = shop.RemovePhoto(2)
	}
	if err == nil {
		_, _, err = shop.AddPaperFile(store.Paper{Kind: store.LetterPaper}, "../letter", phototest.JPEG(30, 20, 4))
	}
	var out bytes.Buffer
	if err := errors.Join(err, ExportArchive(context.Background(), shop, &out)); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// Anyone can open an archive: the lines, and each picture as a file.
func TestArchiveIsPlain(t *testing.T) {
	files := unpack(t, archived(t))
	var names []string
	for _, f := range files {
		names = append(names, f.name)
	}
	if got := strings.Join(names, " "); got != "export.jsonl photos/P-1.jpg photos/P-2.jpg photos/P-3.jpg papers/PA-1.jpg" {
		t.Errorf("it holds %s", got)
	}
	if !bytes.Equal(files[2].data, phototest.JPEG(300, 200, 1)) {
		t.Error("P-2 is not the picture that was brought in")
	}
	// Lines alone are refused in one sentence, and leave nothing.
	path := filepath.Join(t.TempDir(), "shop.stow")
	err := Import(context.Background(), path, bytes.NewReader(files[0].data))
	if store.KindOf(err) != store.Invalid || !strings.Contains(err.Error(), "The export names the picture of photograph P-1, and lines do not hold it") {
		t.Errorf("the lines alone: %v", err)
	}
	nothingIn(t, filepath.Dir(path))
}

func nothingIn(t *testing.T, folder string) {
	t.Helper()
	if left, err := os.ReadDir(folder); err != nil || len(left) > 0 {
		t.Errorf("left in the folder: %v, %v", left, err)
	}
}

// Hostile and damaged archives are refused whole.
func TestArchiveRefused(t *testing.T) {
	good := archived(t)
	files := func(change func(f []packed) []packed) []byte { return pack(t, change(unpack(t, good))) }
	other := phototest.JPEG(300, 200, 9)
	for _, row := range []struct {
		name    string
		archive []byte
		want    string
	}{
		{"empty", nil, "zip: not a valid zip file"},
		{"cut", good[:len(good)/2], "zip: not a valid zip file"},
		{"a flipped byte", flipped(good, phototest.JPEG(300, 200, 2)), "checksum error"},
		{"another picture", files(func(f []packed) []packed { f[1].data = other; return f }), "none of Stowright's (the picture of photograph P-1 is not the one that was brought in)"},
		{"pictures exchanged", files(func(f []packed) []packed { f[1].data, f[3].data = f[3].data, f[1].data; return f }), "none of Stowright's (the picture of photograph P-1 is not the one that was brought in)"},
		{"a picture too few", files(func(f []packed) []packed { return f[:3] }), "photos/P-3.jpg is missing"},
		{"a picture too many", files(func(f []packed) []packed { return append(f, packed{"photos/P-4.jpg", other, 0}) }), "photos/P-4.jpg is of no photograph"},
		{"a picture twice", files(func(f []packed) []packed { return append(f, f[1]) }), "holds photos/P-1.jpg twice"},
		{"no lines", files(func(f []packed) []packed { return f[1:] }), "holds no export.jsonl"},
		{"a path that leads out", files(func(f []packed) []packed { return append(f, packed{"../../P-4.jpg", other, 0}) }), "it holds “../../P-4.jpg”"},
		{"a path that leads out of photos", files(func(f []packed) []packed { f[1].name = "photos/../P-1.jpg"; return f }), "photos/../P-1.jpg"},
		{"an absolute path", files(func(f []packed) []packed { return append(f, packed{"/etc/passwd", other, 0}) }), "/etc/passwd"},
		{"a name spelled otherwise", files(func(f []packed) []packed { f[1].name = "photos/P-01.jpg"; return f }), "photos/P-01.jpg"},
		{"a bomb", files(func(f []packed) []packed {
			return append(f, packed{"photos/P-4.jpg", make([]byte, 1<<20), zip.Deflate})
		}), "photos/P-4.jpg is compressed"},
		{"a bomb of lines", files(func(f []packed) []packed {
			f[0] = packed{f[0].name, bytes.Repeat([]byte(" "), 8<<20), zip.Deflate}
			return f
		}), "export.jsonl is compressed"},
		{"a picture too large", files(func(f []packed) []packed { f[1].data = make([]byte, store.MaxPhotoBytes+1); return f }), "is too large"},
		{"files that lie over each other", overlapping(t, good), "it says that it holds more than it is"},
		{"a paper too few", files(func(f []packed) []packed { return f[:4] }), "papers/PA-1.pdf is missing"},
		{"a paper of no paper", files(func(f []packed) []packed { return append(f, packed{"papers/PA-2.jpg", other, 0}) }), "papers/PA-2.jpg is of no photograph and no paper"},
		{"another paper", files(func(f []packed) []packed { f[4].data = other; return f }), "the file of paper PA-1 is not the one that was brought in"},
		{"a paper by the name of a PDF", files(func(f []packed) []packed { f[4].name = "papers/PA-1.pdf"; return f }), "papers/PA-1.pdf is not what its name says"},
		{"a paper of another name", files(func(f []packed) []packed { f[4].name = "papers/PA-1.exe"; return f }), "papers/PA-1.exe"},
		{"a path among the papers", files(func(f []packed) []packed { f[4].name = "papers/PA-1./../x.jpg"; return f }), "papers/PA-1./../x.jpg"},
		{"an entry changed", files(func(f []packed) []packed {
			f[0].data = bytes.Replace(f[0].data, []byte("P-1 of"), []byte("P-9 of"), 1)
			return f
		}), "entry 2 is not what entry 3 was written after"},
	} {
		t.Run(row.name, func(t *testing.T) {
			dir := t.TempDir()
			archive := filepath.Join(dir, "in.zip")
			if err := os.WriteFile(archive, row.archive, 0o600); err != nil {
				t.Fatal(err)
			}
			folder := filepath.Join(dir, "out")
			if err := os.Mkdir(folder, 0o700); err != nil {
				t.Fatal(err)
			}
			err := ImportArchive(context.Background(), filepath.Join(folder, "shop.stow"), archive)
			if store.KindOf(err) != store.Invalid || !strings.Contains(err.Error(), row.want) {
				t.Errorf("got %v, want %q", err, row.want)
			}
			nothingIn(t, folder)
		})
	}
	if err := ImportArchive(context.Background(), filepath.Join(t.TempDir(), "shop.stow"), "none.zip"); store.KindOf(err) != store.NotFound {
		t.Errorf("no archive: %v", err)
	}
}

// flipped is an archive with one bit of a picture flipped.
func flipped(archive, picture []byte) []byte {
	out := bytes.Clone(archive)
	out[bytes.Index(out, picture)+len(picture)/2] ^= 1
	return out
}

// overlapping is an archive whose directory names the first picture under many numbers,
// so that it would unpack to many times its length. The directory of an entry starts
// with PK\1\2 (APPNOTE.TXT 4.3.12) and ends 46 bytes and its name further on.
func overlapping(t *testing.T, archive []byte) []byte {
	t.Helper()
	start := bytes.Index(archive, []byte("PK\x01\x02"))
	name := bytes.Index(archive[start:], []byte("photos/P-1.jpg")) + start
	entry := archive[name-46 : name+len("photos/P-1.jpg")]
	end := bytes.Clone(archive[bytes.LastIndex(archive, []byte("PK\x05\x06")):])
	out := bytes.Clone(archive[:bytes.LastIndex(archive, []byte("PK\x05\x06"))])
	const more = 40
	for i := range more {
		again := bytes.Clone(entry)
		longer := fmt.Sprintf("photos/P-%d.jpg", 10+i)
		binary.LittleEndian.PutUint16(again[28:], uint16(len(longer)))
		out = append(append(out, again[:46]...), longer...)
	}
	count := binary.LittleEndian.Uint16(end[8:]) + more
	binary.LittleEndian.PutUint16(end[8:], count)
	binary.LittleEndian.PutUint16(end[10:], count)
	binary.LittleEndian.PutUint32(end[12:], uint32(len(out)-start))
	return append(out, end...)
}

// Whatever an archive holds, it is taken or refused as invalid, without a panic.
func FuzzImportArchive(f *testing.F) {
	f.Add([]byte("PK\x05\x06"))
	f.Fuzz(func(t *testing.T, data []byte) {
		dir := t.TempDir()
		archive, path := filepath.Join(dir, "in.zip"), filepath.Join(dir, "shop.stow")
		if err := os.WriteFile(archive, data, 0o600); err != nil {
			t.Fatal(err)
		}
		if err := ImportArchive(context.Background(), path, archive); err != nil && store.KindOf(err) != store.Invalid {
			t.Errorf("%v", err)
		}
	})
}
