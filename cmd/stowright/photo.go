package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"text/tabwriter"
	"time"

	"stowright/app/photos"
	"stowright/app/session"
	"stowright/store"
)

// photoCommand brings photographs in, lists them, saves them out, and changes them.
type photoCommand struct {
	replaceFlag
	listFlag
	File     []string `arg:"" optional:"" help:"Pictures to bring in: PNG, JPEG or GIF. Without any, photographs are listed." type:"path"`
	Line     int      `help:"Of this line of the packing list." placeholder:"NUMBER"`
	Place    string   `help:"Of this place, crate or bag, by its tag or its name." placeholder:"TAG"`
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
func (c *photoCommand) Run(p *program) error {
	return p.withSession(func(s *session.Session) error { return c.run(p, s) })
}

func (c *photoCommand) run(p *program, s *session.Session) (err error) {
	var list []store.Photo
	switch {
	case c.Remove != "" || c.Describe != "":
		list, err = c.change(s.Shop)
	case len(c.File) > 0:
		list, err = c.bringIn(s)
	default:
		list, err = c.list(s)
	}
	if err != nil {
		return err
	}
	answer, err := c.answer(s.Shop, list)
	if err != nil {
		return err
	}
	if len(list) == 0 && c.Remove == "" {
		err = &noError{"there are no photographs of that: bring some in with stowright photo FILE.", ""}
	}
	return errors.Join(p.emit(answer, answer.print), err)
}

// subject is what the flags name, and whether they name anything.
func (c *photoCommand) subject(s *session.Session) (of store.Subject, named bool, err error) {
	switch {
	case c.Line != 0 && c.Place == "" && c.Item == "":
		ship, err := c.shipment(s.Shop)
		return store.OfLine(ship.ID, c.Line), true, err
	case c.Place != "" && c.Line == 0 && c.Item == "":
		place, err := s.PlaceNamed(c.Place)
		return store.OfPlace(place.ID), true, err
	case c.Item != "" && c.Line == 0 && c.Place == "":
		item, err := s.Shop.Item(s.Canonical(c.Item))
		return store.OfItem(item.Designation), true, err
	case c.Line != 0 || c.Place != "" || c.Item != "":
		return of, false, &usageError{errors.New("say what the photograph is of once: --line, --place or --item")}
	}
	return of, false, nil
}

// bringIn brings all of the files in, or none of them.
func (c *photoCommand) bringIn(s *session.Session) ([]store.Photo, error) {
	of, named, err := c.subject(s)
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
	err = s.Shop.Together(func(group *store.Shop) error {
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

func (c *photoCommand) list(s *session.Session) ([]store.Photo, error) {
	of, named, err := c.subject(s)
	switch {
	case err != nil:
		return nil, err
	case named:
		return s.Shop.Photos(of)
	}
	return s.Shop.AllPhotos()
}

// answer describes photographs, and saves them where that was asked for.
func (c *photoCommand) answer(shop *store.Shop, list []store.Photo) (photoAnswer, error) {
	answer := photoAnswer{Photos: []photoRow{}}
	var files []string
	if c.Save != "" {
		var err error
		if files, err = photos.Save(shop, list, c.Save, c.Replace); err != nil {
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
