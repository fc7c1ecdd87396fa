package camera

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"go.uber.org/goleak"
)

func TestMain(m *testing.M) { goleak.VerifyTestMain(m) }

// shade is a small picture of one grey.
func shade(v uint8) image.Image {
	m := image.NewGray(image.Rect(0, 0, 16, 16))
	draw.Draw(m, m.Rect, image.NewUniform(color.Gray{Y: v}), image.Point{}, draw.Src)
	return m
}

func jpegOf(t testing.TB, v uint8) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := jpeg.Encode(&out, shade(v), nil); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// put writes a picture file so that it is whole at once.
func put(t *testing.T, dir, name string, v uint8) {
	t.Helper()
	var out bytes.Buffer
	if err := png.Encode(&out, shade(v)); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, name), out.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
}

// wantShade fails unless the next picture has brightness v, give or take what
// JPEG loses.
func wantShade(t *testing.T, s Source, v int) {
	t.Helper()
	picture, err := s.Next(t.Context())
	if err != nil {
		t.Fatalf("Next: %v, want the picture of brightness %d", err, v)
	}
	got := int(color.GrayModel.Convert(picture.At(8, 8)).(color.Gray).Y)
	if got < v-3 || got > v+3 {
		t.Errorf("Next: a picture of brightness %d, want %d", got, v)
	}
}

// over is a context that has ended.
func over() context.Context {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	return ctx
}

func TestOpen(t *testing.T) {
	empty, full := t.TempDir(), t.TempDir()
	put(t, full, "a.png", 10)
	for _, row := range []struct{ name, where, want string }{
		{"nothing there", filepath.Join(empty, "none"), "there is no such camera or folder"},
		{"file", filepath.Join(full, "a.png"), "is a file; name a folder"},
		{"bad address", "http://%zz", "is not an address"},
		{"no camera in a character device", os.DevNull, "cannot be opened"},
	} {
		t.Run(row.name, func(t *testing.T) {
			s, err := Open(t.Context(), row.where)
			if err == nil {
				s.Close()
			}
			if err == nil || !strings.Contains(err.Error(), row.want) {
				t.Errorf("Open(%q): %v, want %q", row.where, err, row.want)
			}
		})
	}
	s, err := Open(t.Context(), full)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	wantShade(t, s, 10)
}

func TestFolderPlaysOverAndOver(t *testing.T) {
	dir := t.TempDir()
	put(t, dir, "b.png", 100)
	put(t, dir, "a.PNG", 50)
	put(t, dir, ".hidden.png", 1)
	if err := os.WriteFile(filepath.Join(dir, "note.txt"), []byte("no picture"), 0o600); err != nil {
		t.Fatal(err)
	}
	s, err := OpenFolder(dir, 0)
	if err != nil {
		t.Fatal(err)
	}
	for _, v := range []int{50, 100, 50, 100} {
		wantShade(t, s, v)
	}
	if _, err := s.Next(over()); !errors.Is(err, context.Canceled) {
		t.Errorf("Next with an ended context: %v, want context.Canceled", err)
	}
	s.Close()
	if _, err := s.Next(t.Context()); !errors.Is(err, io.EOF) {
		t.Errorf("Next after Close: %v, want io.EOF", err)
	}
}

func TestFolderWaitsBetweenPictures(t *testing.T) {
	dir := t.TempDir()
	put(t, dir, "a.png", 50)
	s, err := OpenFolder(dir, time.Hour)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	wantShade(t, s, 50)
	ctx, cancel := context.WithTimeout(t.Context(), time.Millisecond)
	defer cancel()
	if _, err := s.Next(ctx); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("Next within the hour: %v, want context.DeadlineExceeded", err)
	}
}

func TestFolderBadPicture(t *testing.T) {
	dir := t.TempDir()
	put(t, dir, "b.png", 70)
	if err := os.WriteFile(filepath.Join(dir, "a.png"), []byte("no picture"), 0o600); err != nil {
		t.Fatal(err)
	}
	s, err := OpenFolder(dir, 0)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Next(t.Context()); err == nil || !strings.Contains(err.Error(), "a.png") {
		t.Errorf("Next: %v, want an error naming a.png", err)
	}
	wantShade(t, s, 70)
}

// A folder that holds no picture yet is watched for those that arrive.
func TestOpenWatches(t *testing.T) {
	dir := t.TempDir()
	if _, err := OpenFolder(dir, 0); !errors.Is(err, ErrNoPictures) {
		t.Errorf("OpenFolder: %v, want ErrNoPictures", err)
	}
	s, err := Open(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	w, ok := s.(*Watch)
	if !ok {
		t.Fatalf("Open gives %T, want a watch", s)
	}
	w.poll = 0
	put(t, dir, "a.png", 40)
	wantShade(t, w, 40)
}

func TestWatchGivesNewPicturesOnce(t *testing.T) {
	dir := t.TempDir()
	put(t, dir, "old.png", 10)
	s, err := OpenWatch(dir, 0)
	if err != nil {
		t.Fatal(err)
	}
	put(t, dir, "new.png", 60)
	wantShade(t, s, 60)
	put(t, dir, "newer.png", 90)
	wantShade(t, s, 90)
	ctx, cancel := context.WithTimeout(t.Context(), 5*time.Millisecond)
	defer cancel()
	if picture, err := s.Next(ctx); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("Next: %v, %v, want no picture a second time", picture, err)
	}
	if err := os.Remove(filepath.Join(dir, "new.png")); err != nil {
		t.Fatal(err)
	}
	put(t, dir, "old.png", 200) // written anew, of another size or time
	later := time.Now().Add(time.Hour)
	if err := os.Chtimes(filepath.Join(dir, "old.png"), later, later); err != nil {
		t.Fatal(err)
	}
	wantShade(t, s, 200)
	s.Close()
	if _, err := s.Next(t.Context()); !errors.Is(err, io.EOF) {
		t.Errorf("Next after Close: %v, want io.EOF", err)
	}
}

// A file is not given while it grows.
func TestWatchWaitsForWholeFiles(t *testing.T) {
	dir := t.TempDir()
	w, err := OpenWatch(dir, 0)
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(dir, "a.png")
	for i, size := range []int{0, 0, 10, 20} {
		if err := os.WriteFile(file, make([]byte, size), 0o600); err != nil {
			t.Fatal(err)
		}
		if name, err := w.look(); name != "" || err != nil {
			t.Errorf("look %d at %d bytes: %q, %v, want nothing yet", i, size, name, err)
		}
	}
	if name, err := w.look(); name != "a.png" || err != nil {
		t.Errorf("look at a settled file: %q, %v, want a.png", name, err)
	}
}

func TestWatchFolderGone(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "in")
	if err := os.Mkdir(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	w, err := OpenWatch(dir, 0)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(dir); err != nil {
		t.Fatal(err)
	}
	if _, err := w.Next(t.Context()); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("Next: %v, want os.ErrNotExist", err)
	}
}
