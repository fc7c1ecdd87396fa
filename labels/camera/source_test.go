package camera

import (
	"context"
	"errors"
	"fmt"
	"image"
	"io/fs"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"
)

// still is a source that says whether it is live.
type still struct {
	Source
	live bool
}

func (s still) Live() bool { return s.live }

// A source is live where it says so; one that says nothing is not.
func TestLive(t *testing.T) {
	for name, row := range map[string]struct {
		source Source
		want   bool
	}{
		"says yes":       {still{live: true}, true},
		"says no":        {still{live: false}, false},
		"says nothing":   {&Folder{}, false},
		"a watch":        {&Watch{}, false},
		"a stream":       {&Stream{}, true},
		"none":           {nil, false},
		"one that hides": {struct{ Source }{&Stream{}}, false},
	} {
		if got := Live(row.source); got != row.want {
			t.Errorf("%s: live is %v, want %v", name, got, row.want)
		}
	}
}

// Waiting ends at once where there is nothing to wait for, and with its context.
func TestWait(t *testing.T) {
	for _, row := range []struct {
		name string
		ctx  context.Context
		d    time.Duration
		want error
	}{
		{"no time", context.Background(), 0, nil},
		{"time that is over", context.Background(), -time.Hour, nil},
		{"no time, ended", over(), 0, context.Canceled},
		{"long, ended", over(), time.Hour, context.Canceled},
		{"a moment", context.Background(), time.Nanosecond, nil},
	} {
		if err := wait(row.ctx, row.d); !errors.Is(err, row.want) {
			t.Errorf("%s: %v, want %v", row.name, err, row.want)
		}
	}
}

// Which file names are pictures.
func TestIsPictureName(t *testing.T) {
	for name, want := range map[string]bool{
		"a.png": true, "a.PNG": true, "a.jpg": true, "a.Jpeg": true, "a.gif": true, "a b.c.png": true,
		".a.png": false, "a.heic": false, "a.bmp": false, "png": false, "a.png.txt": false, "": false, ".png": false, "a.": false,
	} {
		if got := isPictureName(name); got != want {
			t.Errorf("%q is a picture: %v, want %v", name, got, want)
		}
	}
}

// Pictures come in the order of their names; folders and others are left out.
func TestPictureFiles(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"b.png", "a.jpg", "notes.txt", "10.gif", "9.gif"} {
		if err := os.WriteFile(filepath.Join(dir, name), nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Mkdir(filepath.Join(dir, "folder.png"), 0o700); err != nil {
		t.Fatal(err)
	}
	names, err := pictureFiles(dir)
	if want := []string{"10.gif", "9.gif", "a.jpg", "b.png"}; err != nil || !slices.Equal(names, want) {
		t.Errorf("pictures %q, %v; want %q", names, err, want)
	}
	if _, err := pictureFiles(filepath.Join(dir, "none")); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("a folder that is not there: %v", err)
	}
}

// A folder of too many pictures is refused with their number, one of as many as may be
// is not. Other files do not count.
func TestPictureFilesLimit(t *testing.T) {
	folder := fstest.MapFS{"notes.txt": {}, "sub.png": {Mode: fs.ModeDir}}
	for i := range maxFiles {
		folder[fmt.Sprintf("%05d.png", i)] = &fstest.MapFile{}
	}
	for _, row := range []struct {
		more  []string
		count int
		want  string
	}{
		{nil, maxFiles, ""},
		{[]string{"one-more.txt"}, maxFiles, ""},
		{[]string{"one-more.png"}, 0, `the folder "dir" contains 10001 pictures, over the limit of 10000; name a smaller one`},
	} {
		for _, name := range row.more {
			folder[name] = &fstest.MapFile{}
		}
		entries, err := folder.ReadDir(".")
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		names, err := picturesAmong("dir", entries)
		if err != nil {
			got = err.Error()
		}
		if len(names) != row.count || got != row.want {
			t.Errorf("with %q: %d pictures, %q; want %d, %q", row.more, len(names), got, row.count, row.want)
		}
	}
}

// A picture is shown for its time before the next one comes, less what passed since.
func TestFolderTime(t *testing.T) {
	dir := t.TempDir()
	put(t, dir, "a.png", 50)
	put(t, dir, "b.png", 100)
	f, err := OpenFolder(dir, time.Hour)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	wantShade(t, f, 50)
	f.shown = time.Now().Add(-2 * time.Hour) // its time is over
	wantShade(t, f, 100)
	f.shown = time.Now().Add(-30 * time.Minute)
	ctx, cancel := context.WithTimeout(t.Context(), time.Millisecond)
	defer cancel()
	if _, err := f.Next(ctx); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("half way through its time: %v, want to wait", err)
	}
	f.shown = time.Now().Add(-2 * time.Hour)
	wantShade(t, f, 50) // the one that was not given, not the one after it
}

// A file that goes between listing and looking hides no other one.
func TestWatchSkipsWhatIsGone(t *testing.T) {
	dir := t.TempDir()
	w, err := OpenWatch(dir, 0)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("nowhere", filepath.Join(dir, "a.png")); err != nil {
		t.Fatal(err) // listed, and not there to be looked at
	}
	put(t, dir, "b.png", 80)
	wantShade(t, w, 80)
}

// A file of no bytes is no picture yet, however long it stays so.
func TestWatchWaitsForBytes(t *testing.T) {
	dir := t.TempDir()
	w, err := OpenWatch(dir, 0)
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(dir, "a.png")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	for range 3 {
		if name, err := w.look(); name != "" || err != nil {
			t.Errorf("an empty file: %q, %v", name, err)
		}
	}
	if err := os.WriteFile(file, []byte{1}, 0o600); err != nil {
		t.Fatal(err)
	}
	for i, want := range []string{"", "a.png", ""} {
		if name, err := w.look(); name != want || err != nil {
			t.Errorf("look %d at one byte: %q, %v; want %q", i, name, err, want)
		}
	}
}

// Several that settled at once come one after another, and each once.
func TestWatchSeveral(t *testing.T) {
	dir := t.TempDir()
	w, err := OpenWatch(dir, 0)
	if err != nil {
		t.Fatal(err)
	}
	for i, name := range []string{"c.png", "a.png", "b.png"} {
		put(t, dir, name, uint8(40+40*i))
	}
	var got []string
	for range 6 {
		name, err := w.look()
		if err != nil {
			t.Fatal(err)
		}
		got = append(got, name)
	}
	if want := []string{"", "a.png", "b.png", "c.png", "", ""}; !slices.Equal(got, want) {
		t.Errorf("looks give %q, want %q", got, want)
	}
}

// Of an answer, only a stream with a boundary is taken.
func TestStreamBoundary(t *testing.T) {
	for _, row := range []struct {
		name, kind string
		status     int
		want       string // the boundary, or what the error contains after "!"
	}{
		{"plain", "multipart/x-mixed-replace; boundary=frame", 200, "frame"},
		{"quoted", `multipart/x-mixed-replace; boundary="a b"`, 200, "a b"},
		{"with its dashes", "multipart/x-mixed-replace;boundary=--frame", 200, "frame"},
		{"another multipart", "multipart/mixed; boundary=x", 200, "x"},
		{"no boundary", "multipart/x-mixed-replace", 200, "!is not a motion JPEG stream"},
		{"a picture", "image/jpeg", 200, "!image/jpeg"},
		{"no kind", "", 200, "!is not a motion JPEG stream"},
		{"nonsense", ";;;", 200, "!is not a motion JPEG stream"},
		{"a name is asked for", "multipart/x-mixed-replace; boundary=frame", 401, "!401"},
		{"part of it", "multipart/x-mixed-replace; boundary=frame", 206, "!206"},
	} {
		t.Run(row.name, func(t *testing.T) {
			answer := &http.Response{StatusCode: row.status, Status: fmt.Sprint(row.status), Header: http.Header{"Content-Type": {row.kind}}}
			got, err := streamBoundary(answer)
			if want, refused := strings.CutPrefix(row.want, "!"); refused != (err != nil) || refused && !strings.Contains(err.Error(), want) || !refused && got != want {
				t.Errorf("boundary %q, %v; want %q", got, err, row.want)
			}
		})
	}
}

// An answer that is no stream is let go of: the server sees its connection close.
func TestOpenStreamLetsGo(t *testing.T) {
	gone := make(chan struct{})
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "text/html")
		w.(http.Flusher).Flush()
		<-r.Context().Done()
		close(gone)
	}))
	defer server.Close()
	if _, err := OpenStream(t.Context(), server.URL); err == nil {
		t.Error("a page is taken for a stream")
	}
	select {
	case <-gone:
	case <-time.After(10 * time.Second):
		t.Error("the connection stays open")
	}
}

// The newest picture is given, not those that nobody asked for.
func TestStreamNewest(t *testing.T) {
	camera := newSender(t, "frame")
	s := openStream(t, camera.URL)
	for v := range 4 {
		camera.frames <- jpegOf(t, uint8(40*v))
	}
	camera.frames <- jpegOf(t, 200)
	// A part is known to be whole when the next one begins: this one pushes it through.
	camera.frames <- jpegOf(t, 240)
	for range 5 {
		picture, err := s.Next(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		if v := brightness(picture); v >= 197 {
			return
		}
	}
	t.Error("five pictures were asked for, and none is of the newest")
}

func brightness(p image.Image) int {
	r, _, _, _ := p.At(8, 8).RGBA()
	return int(r >> 8)
}

// A second Close is nothing, and neither waits for a camera that is silent.
func TestStreamCloseTwice(t *testing.T) {
	s := openStream(t, newSender(t, "frame").URL)
	for range 2 {
		if err := s.Close(); err != nil {
			t.Errorf("Close: %v", err)
		}
	}
}
