package main

import (
	"errors"
	"fmt"
	"io"
	"text/tabwriter"
	"time"

	"stowright/app/operation"
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
	Position string   `help:"Of this position on an aircraft, from the large to the small." placeholder:"'Tailplane / left'"`
	Aircraft string   `help:"With --position: on this aircraft, where the sub-assemblies say which is theirs." placeholder:"Q"`
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
	if err := c.usage(); err != nil {
		return err
	}
	return p.withSession(func(s *session.Session) error { return c.run(p, s) })
}

func (c *photoCommand) run(p *program, s *session.Session) (err error) {
	var list []store.Photo
	if o := c.operation(); o != nil {
		r, err := o.Do(p.ctx, s)
		if err != nil {
			return err
		}
		list = r.Photos
	} else if list, err = c.list(s); err != nil {
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

// subject is what the flags name.
func (c *photoCommand) subject() operation.Subject {
	return operation.Subject{List: c.List, Line: c.Line, Place: c.Place, Item: c.Item, Position: c.Position, Aircraft: c.Aircraft}
}

// usage refuses flags that go with each other no better than two answers do.
func (c *photoCommand) usage() error {
	of := count(c.Line != 0, c.Place != "", c.Item != "", c.Position != "")
	switch {
	case count(c.Remove != "", c.Describe != "", len(c.File) > 0) > 1:
		return &usageError{errors.New("--remove, --describe and files to bring in are entries of their own: give one of them")}
	case of > 1:
		return &usageError{errors.New("say what the photograph is of once: --line, --place, --item or --position")}
	case c.Aircraft != "" && c.Position == "":
		return &usageError{errors.New("--aircraft goes with --position: give both")}
	case of == 0 && len(c.File) > 0 && c.Remove == "" && c.Describe == "":
		return &usageError{errors.New("say what the photographs are of: --line, --place, --item or --position")}
	}
	return nil
}

// count is how many are true.
func count(are ...bool) (n int) {
	for _, is := range are {
		if is {
			n++
		}
	}
	return n
}

// operation is what the flags ask for; nil where photographs are to be listed.
func (c *photoCommand) operation() operation.Operation {
	switch {
	case c.Remove != "":
		return operation.RemovePhoto{Photo: c.Remove}
	case c.Describe != "":
		return operation.DescribePhoto{Photo: c.Describe, Caption: c.Caption}
	case len(c.File) > 0:
		return operation.AddPhotos{Of: c.subject(), Files: c.File, Caption: c.Caption}
	}
	return nil
}

func (c *photoCommand) list(s *session.Session) ([]store.Photo, error) {
	of, named, err := c.subject().Find(s)
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
