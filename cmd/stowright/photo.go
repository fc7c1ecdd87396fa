package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"
	"time"

	"stowright/app/photos"
	"stowright/app/session"
	"stowright/store"
)

// photoCommand brings photographs in, lists them, saves them out, and changes them.
type photoCommand struct {
	File     []string `arg:"" optional:"" help:"Pictures to bring in: PNG, JPEG or GIF. Without any, photographs are listed." type:"path"`
	Line     int      `help:"Of this line of the packing list." placeholder:"NUMBER"`
	Order    string   `help:"Of the packing list of this order, where the shop has several."`
	Place    string   `help:"Of the place, crate or bag with this tag or name." placeholder:"TAG"`
	Item     string   `help:"Of this item." placeholder:"DESIGNATION"`
	Caption  string   `help:"What is on them."`
	Save     string   `help:"Write those listed into this folder." type:"path" placeholder:"FOLDER"`
	Describe string   `help:"Give the photograph with this name the caption." placeholder:"P-17"`
	Remove   string   `help:"Take the photograph with this name away; it can be undone." placeholder:"P-17"`
}

// photoRow is a photograph in the JSON answer.
type photoRow struct {
	Photo   string    `json:"photo"`
	Of      string    `json:"of"`
	Caption string    `json:"caption"`
	At      time.Time `json:"at"`
	Hand    string    `json:"hand"`
	Width   int       `json:"width"`
	Height  int       `json:"height"`
	Bytes   int       `json:"bytes"`
	SHA256  string    `json:"sha256"`
	File    string    `json:"file"` // where it was saved; empty where it was not
}

type photoAnswer struct {
	Photos []photoRow `json:"photos"`
}

// Run does what was asked for.
func (c *photoCommand) Run(p *program) (err error) {
	shop, err := p.open(false)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, shop.Close()) }()
	var list []store.Photo
	switch {
	case c.Remove != "" || c.Describe != "":
		list, err = c.change(shop)
	case len(c.File) > 0:
		list, err = c.bringIn(shop)
	default:
		list, err = c.list(shop)
	}
	if err != nil {
		return err
	}
	answer, err := c.answer(shop, list)
	if err != nil {
		return err
	}
	if len(list) == 0 && c.Remove == "" {
		err = &noError{"there are no photographs of that: bring some in with stowright photo FILE.", ""}
	}
	return errors.Join(p.emit(answer, answer.print), err)
}

// subject is what the flags name, and whether they name anything.
func (c *photoCommand) subject(shop *store.Shop) (of store.Subject, named bool, err error) {
	switch {
	case c.Line != 0 && c.Place == "" && c.Item == "":
		ship, err := c.shipment(shop)
		return store.OfLine(ship.ID, c.Line), true, err
	case c.Place != "" && c.Line == 0 && c.Item == "":
		place, err := placeNamed(shop, c.Place)
		return store.OfPlace(place.ID), true, err
	case c.Item != "" && c.Line == 0 && c.Place == "":
		item, err := shop.Item(session.Canonical(c.Item))
		return store.OfItem(item.Designation), true, err
	case c.Line != 0 || c.Place != "" || c.Item != "":
		return of, false, &usageError{errors.New("say what the photograph is of once: --line, --place or --item")}
	}
	return of, false, nil
}

// placeNamed is the place in use with a tag, or the only one with a name.
func placeNamed(shop *store.Shop, name string) (store.Place, error) {
	r, err := shop.Resolve(name)
	if err != nil || r.Answer == store.TagFound {
		return r.Place, err
	}
	places, err := shop.Places()
	if err != nil {
		return store.Place{}, err
	}
	places = slices.DeleteFunc(places, func(p store.Place) bool { return p.Retired || !strings.EqualFold(p.Name, name) })
	switch len(places) {
	case 0:
		return store.Place{}, &store.Error{Kind: store.NotFound, Where: name, Message: r.Sentence()}
	case 1:
		return places[0], nil
	}
	return store.Place{}, &usageError{fmt.Errorf("the shop has %d places called %s: name it by its tag", len(places), name)}
}

// shipment is the packing list that --order names, or the only one that there is.
func (c *photoCommand) shipment(shop *store.Shop) (store.Shipment, error) {
	ships, err := shop.Shipments()
	if err != nil {
		return store.Shipment{}, err
	}
	if c.Order != "" {
		ships = slices.DeleteFunc(ships, func(s store.Shipment) bool { return s.Order != c.Order })
	}
	switch len(ships) {
	case 0:
		return store.Shipment{}, &store.Error{Kind: store.NotFound, Where: c.Order, Message: "There is no such packing list in this shop: bring it in first."}
	case 1:
		return ships[0], nil
	}
	return store.Shipment{}, &usageError{errors.New("the shop has several packing lists: say which with --order")}
}

// bringIn brings all of the files in, or none of them.
func (c *photoCommand) bringIn(shop *store.Shop) ([]store.Photo, error) {
	of, named, err := c.subject(shop)
	if err == nil && !named {
		err = &usageError{errors.New("say what the photographs are of: --line, --place or --item")}
	}
	if err != nil {
		return nil, err
	}
	var pictures [][]byte
	for _, file := range c.File {
		picture, err := photos.Read(file)
		if err != nil {
			return nil, err
		}
		pictures = append(pictures, picture)
	}
	var list []store.Photo
	err = shop.Together(func(group *store.Shop) error {
		for _, picture := range pictures {
			made, _, err := group.AddPhoto(of, c.Caption, picture)
			if err != nil {
				return err
			}
			list = append(list, made)
		}
		return nil
	})
	return list, err
}

// change takes a photograph away or describes it.
func (c *photoCommand) change(shop *store.Shop) ([]store.Photo, error) {
	name := cmp.Or(c.Remove, c.Describe)
	number, ok := store.PhotoNumber(name)
	if !ok || c.Remove != "" && c.Describe != "" || len(c.File) > 0 {
		return nil, &usageError{fmt.Errorf("%q does not name one photograph: photographs are called P-17", name)}
	}
	if c.Remove != "" {
		_, err := shop.RemovePhoto(number)
		return nil, err
	}
	if _, err := shop.CaptionPhoto(number, c.Caption); err != nil {
		return nil, err
	}
	photo, err := shop.Photo(number)
	return []store.Photo{photo}, err
}

func (c *photoCommand) list(shop *store.Shop) ([]store.Photo, error) {
	of, named, err := c.subject(shop)
	switch {
	case err != nil:
		return nil, err
	case named:
		return shop.Photos(of)
	}
	return shop.AllPhotos()
}

// answer describes photographs, and saves them where that was asked for.
func (c *photoCommand) answer(shop *store.Shop, list []store.Photo) (photoAnswer, error) {
	answer := photoAnswer{Photos: []photoRow{}}
	var files []string
	if c.Save != "" {
		var err error
		if files, err = photos.Save(shop, list, c.Save); err != nil {
			return answer, err
		}
	}
	for i, photo := range list {
		of, err := shop.SubjectText(photo.Of)
		if err != nil {
			return answer, err
		}
		row := photoRow{photo.Name(), of, photo.Caption, photo.At, photo.Hand, photo.Width, photo.Height, photo.Bytes, photo.SHA256, ""}
		if files != nil {
			row.File = files[i]
		}
		answer.Photos = append(answer.Photos, row)
	}
	return answer, nil
}

func (a photoAnswer) print(w io.Writer) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, r := range a.Photos {
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%d kB\t%s\n", r.Photo, r.At.Format("2 Jan 2006"), r.Of, r.Caption, (r.Bytes+999)/1000, r.File)
	}
	return t.Flush()
}
