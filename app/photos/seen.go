package photos

import (
	"bytes"
	"fmt"
	"image"
	"strconv"
	"strings"
	"sync"

	"stowright/app/card"
	"stowright/labels/scan"
	"stowright/store"
)

const (
	smallSide = 320 // pixels of a small picture
	mostSmall = 48  // small pictures that are remembered: some 15 MB
)

// Seen reads the pictures of a shop to be looked at. Small ones are remembered, as
// many as a few screens show. It may be used by several goroutines.
type Seen struct {
	shop *store.Shop

	mu    sync.Mutex // guards what follows
	small map[uint64]image.Image
	order []uint64 // of small, the oldest first
}

// NewSeen reads the pictures of a shop.
func NewSeen(shop *store.Shop) *Seen { return &Seen{shop: shop, small: map[uint64]image.Image{}} }

// Large is a whole picture.
func (s *Seen) Large(number uint64) (image.Image, error) {
	data, err := s.shop.Picture(number)
	if err != nil {
		return nil, err
	}
	return scan.Decode(bytes.NewReader(data))
}

// Small is a picture as it is shown among others.
func (s *Seen) Small(number uint64) (image.Image, error) {
	s.mu.Lock()
	known := s.small[number]
	s.mu.Unlock()
	if known != nil {
		return known, nil
	}
	large, err := s.Large(number)
	if err != nil {
		return nil, err
	}
	small := scaled(large, smallSide)
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.small[number] == nil {
		s.order = append(s.order, number)
	}
	s.small[number] = small
	for len(s.order) > mostSmall {
		delete(s.small, s.order[0])
		s.order = s.order[1:]
	}
	return small, nil
}

// Cards are photographs as they are shown, the newest last, at most so many of the
// newest. One whose picture cannot be had says why in place of its caption.
func (s *Seen) Cards(list []store.Photo, most int) []card.Photo {
	shown := Named(list, most)
	s.Fill(shown)
	return shown
}

// Named are Cards without their pictures.
func Named(list []store.Photo, most int) []card.Photo {
	out := []card.Photo{}
	for _, p := range list[max(0, len(list)-most):] {
		out = append(out, card.Photo{Name: p.Name(), Caption: p.Caption, When: p.At.Format("2 Jan 2006") + ", " + p.Hand})
	}
	return out
}

// Fill reads the pictures of photographs that are named. It is not for within a Read of
// the shop: it reads the shop itself, and pictures take their time.
func (s *Seen) Fill(shown []card.Photo) {
	for i := range shown {
		number, _ := store.PhotoNumber(shown[i].Name)
		picture, err := s.Small(number)
		if err != nil {
			shown[i].Caption = "its picture cannot be read"
		}
		shown[i].Picture = picture
	}
}

// inAbout stands between an aircraft and a position on it, whose names have no such sign.
const inAbout = "\t"

// About names a subject in a route.
func About(of store.Subject) string {
	switch {
	case of.Item != "":
		return "item " + of.Item
	case of.Place != "":
		return "place " + of.Place
	case of.Position != "":
		return "position " + of.Aircraft + inAbout + of.Position
	}
	return fmt.Sprintf("line %s %d", of.Shipment, of.Line)
}

// SubjectOf is the subject that About named.
func SubjectOf(about string) (of store.Subject, ok bool) {
	kind, name, _ := strings.Cut(about, " ")
	switch kind {
	case "item":
		of = store.OfItem(name)
	case "place":
		of = store.OfPlace(name)
	case "position":
		of.Aircraft, of.Position, _ = strings.Cut(name, inAbout)
		return of, of.Position != ""
	case "line":
		shipment, number, _ := strings.Cut(name, " ")
		line, err := strconv.Atoi(number)
		return store.OfLine(shipment, store.LineID(line)), err == nil
	}
	return of, of != store.Subject{}
}
