package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"stowright/app/demo"
	"stowright/app/desktop"
	"stowright/app/gallery"
	"stowright/app/session"
	"stowright/store"
)

// galleryCommand draws every widget and every screen on the demo shop, with its
// days and its tags the same each time. It is for those who work on the program.
type galleryCommand struct {
	replaceFlag
	Dir     string   `arg:"" help:"The folder for the pictures." type:"path"`
	Widgets bool     `help:"The widgets too, and not the screens alone."`
	Only    []string `help:"Only the pictures of these names, such as find."`
}

// Run draws the pictures.
func (c *galleryCommand) Run(p *program) (err error) {
	folder, err := galleryFolder()
	if err != nil {
		return fmt.Errorf("making a folder for the shop: %w", err)
	}
	defer func() { err = errors.Join(err, os.RemoveAll(folder)) }()
	clock := demo.NewClock(demo.Today, true)
	shop, err := store.Open(filepath.Join(folder, "gallery.stow"), store.Options{Clock: clock.Now, Random: demo.Random(), Create: true})
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, shop.Close()) }()
	if err := demo.Fill(shop, clock, demo.Unpacking, demo.Extend, demo.Fleet); err != nil {
		return err
	}
	if err := demo.Warned(shop); err != nil {
		return err
	}
	s, err := session.Open(p.ctx, shop, session.Inline(), nil)
	if err != nil {
		return err
	}
	newFyneApp()
	shots, err := desktop.Shots(s)
	if err != nil {
		return err
	}
	card, err := desktop.KeyCardState()
	if err != nil {
		return err
	}
	questions, err := desktop.QuestionStates(s)
	if err != nil {
		return err
	}
	none, err := store.Open(filepath.Join(folder, "new.stow"), store.Options{Clock: clock.Now, Random: demo.Random(), Create: true})
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, none.Close()) }()
	empty, err := session.Open(p.ctx, none, session.Inline(), nil)
	if err != nil {
		return err
	}
	states := slices.Concat(desktop.States(s, shots), questions, desktop.EmptyStates(empty), []gallery.State{card})
	if c.Widgets {
		states = append(states, gallery.Widgets()...)
	}
	if len(c.Only) > 0 {
		states = slices.DeleteFunc(states, func(s gallery.State) bool { return !slices.Contains(c.Only, s.Name) })
	}
	pictures, err := gallery.Write(c.Dir, states, c.files(p))
	if err == nil {
		_, err = fmt.Fprintf(p.out, "%d pictures in %s\n", len(pictures), c.Dir)
	}
	return err
}

// galleryFolder makes the folder of the shop: always of the same name, since a picture
// shows where the copies lie, unless another run has it now.
func galleryFolder() (string, error) {
	folder := filepath.Join(os.TempDir(), "stowright-gallery")
	if err := os.Mkdir(folder, 0o700); errors.Is(err, fs.ErrExist) {
		return os.MkdirTemp("", "stowright-gallery-*")
	} else if err != nil {
		return "", err
	}
	return folder, nil
}
