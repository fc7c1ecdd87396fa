package store

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"stowright/store/phototest"
)

// pictures are what is photographed, of one part and of two.
var pictures = [][]byte{phototest.JPEG(24, 16, 0), phototest.JPEG(16, 24, 1), phototest.JPEG(320, 320, 2)}

func (m *model) photograph(t *rapid.T) {
	of := rapid.SampledFrom([]Subject{
		OfItem("AN3-5A"), OfItem("AN3-8"), OfPlace(m.ids[0]), OfPlace(m.ids[1]), OfPlace("none"),
		OfLine(m.ship, 1), OfLine(m.ship, 2), OfLine(m.ship, 9),
		{},
		{Item: "AN3-5A", Place: m.ids[0]},
		{Shipment: m.ship},
	}).Draw(t, "of")
	seed, caption := rapid.Uint64Range(0, uint64(len(pictures)-1)).Draw(t, "picture"), rapid.SampledFrom([]string{"", "dent", " dent "}).Draw(t, "caption")
	allowed := of == OfItem("AN3-5A") || of.Line == 1 || of.Line == 2 || of.single() && (of.Place == m.ids[0] || of.Place == m.ids[1])
	var p Photo
	m.try(t, fmt.Sprintf("photograph %+v", of), allowed, func() (err error) {
		p, _, err = m.shop.AddPhoto(of, caption, pictures[seed])
		return err
	}, func() {
		if m.numbers[p.Number] {
			t.Fatalf("number %d was given before", p.Number)
		}
		m.numbers[p.Number] = true
		m.photos[p.Number] = modelPhoto{of, strings.TrimSpace(caption), seed}
	})
}

func (m *model) drawPhoto(t *rapid.T) uint64 {
	return rapid.SampledFrom(append([]uint64{99}, slices.Sorted(maps.Keys(m.numbers))...)).Draw(t, "number")
}

func (m *model) removePhoto(t *rapid.T) {
	number := m.drawPhoto(t)
	_, there := m.photos[number]
	m.try(t, fmt.Sprintf("take photograph %d away", number), there, func() error {
		_, err := m.shop.RemovePhoto(number)
		return err
	}, func() { delete(m.photos, number) })
}

func (m *model) caption(t *rapid.T) {
	number, caption := m.drawPhoto(t), rapid.SampledFrom([]string{"", "bent", "dent"}).Draw(t, "caption")
	p, there := m.photos[number]
	m.try(t, fmt.Sprintf("describe photograph %d", number), there, func() error {
		_, err := m.shop.CaptionPhoto(number, caption)
		return err
	}, func() {
		p.caption = caption
		m.photos[number] = p
	})
}

// agreeOnPhotos compares the photographs, each with its picture.
func (m *model) agreeOnPhotos(t *rapid.T) {
	list, err := m.shop.AllPhotos()
	if err != nil {
		t.Fatal(err)
	}
	got := map[uint64]modelPhoto{}
	for _, p := range list {
		picture, err := m.shop.Picture(p.Number)
		seed := uint64(slices.IndexFunc(pictures, func(known []byte) bool { return string(known) == string(picture) }))
		if of, ofErr := m.shop.Photos(p.Of); err != nil || ofErr != nil || !slices.Contains(of, p) {
			t.Fatalf("photograph %s: %v, %v, and of its subject there are %v", p.Name(), err, ofErr, of)
		}
		got[p.Number] = modelPhoto{p.Of, p.Caption, seed}
	}
	if d := cmp.Diff(m.photos, got, cmp.AllowUnexported(modelPhoto{})); d != "" {
		t.Fatalf("photographs (-model +shop):\n%s", d)
	}
}
