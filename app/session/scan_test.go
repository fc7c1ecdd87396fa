package session_test

import (
	"context"
	"errors"
	"image"
	"testing"

	"stowright/app/demo"
	"stowright/labels"
	"stowright/labels/scan"
	"stowright/store"
)

// What the labels of a cabinet say is what the camera reads: every code of the
// printed sheet leads back to its drawer, wherever that is now.
func TestReadPrintedSheet(t *testing.T) {
	s := open(t, demo.Unpacked)
	drawers, err := s.PlacesMatching("A-1*")
	if err != nil {
		t.Fatal(err)
	}
	list, err := s.Labels(drawers)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := labels.Layout(list, labels.Stocks()[0], labels.Options{})
	if err != nil {
		t.Fatal(err)
	}
	picture, err := labels.Picture(doc.Pages[0], 3)
	if err != nil {
		t.Fatal(err)
	}
	reader := scan.New()
	read := func() map[string]store.Resolution {
		t.Helper()
		readings, err := s.ReadPicture(t.Context(), reader, picture)
		if err != nil {
			t.Fatal(err)
		}
		got := map[string]store.Resolution{}
		for _, r := range readings {
			got[string(r.Tag)] = r.Resolution
		}
		return got
	}
	got := read()
	if len(got) != 10 {
		t.Errorf("%d codes are read, want 10", len(got))
	}
	for _, d := range drawers {
		if r := got[string(d.Tag)]; r.Answer != store.TagFound || r.Place.Name != d.Name {
			t.Errorf("the label of %s: %s, %q", d.Name, r.Answer, r.Place.Name)
		}
	}
	hangar, _, err := s.Shop.AddPlace(store.Place{Kind: store.Room, Name: "Hangar"})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Shop.MovePlace(drawers[0].Parent, hangar.ID); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Shop.RetirePlace(place(t, s, "A-11").ID); err != nil {
		t.Fatal(err)
	}
	got = read()
	for _, d := range drawers {
		want := store.TagFound
		if d.Name == "A-11" {
			want = store.TagRetired
		}
		if r := got[string(d.Tag)]; r.Answer != want || store.PathText(r.Path) != "Hangar, Cabinet A, "+d.Name {
			t.Errorf("after the move the label of %s: %s, %q; want %s", d.Name, r.Answer, store.PathText(r.Path), want)
		}
	}
}

// A reading that is given up says so, and a picture without codes is no error.
func TestReadPictureEnds(t *testing.T) {
	s := open(t, demo.Furnished)
	blank := image.NewGray(image.Rect(0, 0, 320, 240))
	if readings, err := s.ReadPicture(t.Context(), scan.New(), blank); err != nil || len(readings) != 0 {
		t.Errorf("a blank picture: %v, %v", readings, err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := s.ReadPicture(ctx, scan.New(), blank); !errors.Is(err, context.Canceled) {
		t.Errorf("given up: %v, want context.Canceled", err)
	}
}
