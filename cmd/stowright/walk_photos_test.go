package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"stowright/store"
	"stowright/store/phototest"
)

// TestWalkPhotographs takes a photograph of the line in hand with the camera, takes it
// away, brings it back, and finds it in the file and in an archive of it.
func TestWalkPhotographs(t *testing.T) {
	d := sitDown(t)
	shop := filepath.Join(d.home, "demo", "demo.stow")
	lens := t.TempDir()
	if err := os.WriteFile(filepath.Join(lens, "seen.jpg"), phototest.JPEG(640, 480, 1), 0o600); err != nil {
		t.Fatal(err)
	}
	d.start("demo", "--dir", filepath.Dir(shop), "--camera", lens)
	d.keys("ctrl+2")
	d.wait("page", "unpack")
	d.press([]string{"p"}, "page", "photographs")
	d.keys("c")
	d.press([]string{"Return"}, "entry", "photograph P-3 of line 40 AN3-6A")
	d.picture("walk-photographs-1-camera")
	d.keys("Escape")
	d.press([]string{"Delete"}, "entry", "P-3", "taken away")
	d.keys("ctrl+z")
	d.wait("entry", "undo", "P-3")
	d.picture("walk-photographs-2-all")
	d.keys("b")
	d.wait("page", "unpack")
	d.picture("walk-photographs-3-unpack")
	d.stop()

	var listed struct {
		Photos []struct{ Photo, Of string }
	}
	if err := json.Unmarshal([]byte(d.command("--shop", shop, "photo", "--line", "40", "--json")), &listed); err != nil || len(listed.Photos) == 0 || listed.Photos[0].Photo != "P-3" {
		t.Errorf("listed of line 40: %+v, %v", listed, err)
	}
	archive := filepath.Join(d.home, "all.zip")
	d.command("--shop", shop, "export", archive)
	again := filepath.Join(d.home, "again.stow")
	d.command("--shop", again, "restore", archive, "--yes")
	var pictures [][]byte
	for _, file := range []string{shop, again} {
		s, err := store.Open(file, store.Options{})
		if err != nil {
			t.Fatal(err)
		}
		picture, err := s.Picture(3)
		if err != nil {
			t.Error(err)
		}
		pictures = append(pictures, picture)
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	}
	if !bytes.Equal(pictures[0], pictures[1]) {
		t.Error("the archive gives another picture")
	}
}
