package operation

import (
	"context"
	"strings"

	"stowright/app/photos"
	"stowright/app/session"
	"stowright/store"
)

// Subject says what a photograph is of: by its key, as a screen has it, or by one of a
// line of a packing list, a place and an item.
type Subject struct {
	Of    store.Subject // where it is not zero, the other fields do not count
	List  string        // packing list; "": the only one
	Line  int
	Place string
	Item  string // part number
	// Position is a position on Aircraft, which is "" where the shop builds one only. It
	// need not be recorded: photographs that are brought in record it.
	Position, Aircraft string
}

// Find is what is named, and whether anything is.
func (o Subject) Find(s *session.Session) (of store.Subject, named bool, err error) {
	switch {
	case o.Of != (store.Subject{}):
		return o.Of, true, nil
	case count(o.Line != 0, o.Place != "", o.Item != "", o.Position != "") > 1:
		return of, false, invalid("Say once what the photograph is of: a line, a place, an item or a position.")
	case o.Line != 0:
		line, err := LineOf(s, o.List, o.Line)
		return store.OfLine(line.Shipment, line.ID), true, err
	case o.Place != "":
		place, err := s.PlaceNamed(o.Place)
		return store.OfPlace(place.ID), true, err
	case o.Item != "":
		item, err := s.Shop.Item(spelled(s, o.Item))
		return store.OfItem(item.Designation), true, err
	case o.Position != "":
		aircraft := ""
		if o.Aircraft != "" {
			a, err := aircraftNamed(s, o.Aircraft)
			if err != nil {
				return of, true, err
			}
			aircraft = a.Name
		}
		return store.OfPosition(store.PositionOf(aircraft, o.Position)), true, nil
	}
	return of, false, nil
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

// AddPhotos brings photographs in, all of them or none.
type AddPhotos struct {
	Of       Subject
	Files    []string // PNG, JPEG or GIF
	Pictures [][]byte // as photos.Prepare makes them, after those of Files
	Caption  string
}

// Do brings them in. Result has them in their order.
func (o AddPhotos) Do(ctx context.Context, s *session.Session) (Result, error) {
	of, named, err := o.Of.Find(s)
	if err == nil && !named {
		err = invalid("Say what the photographs are of: a line, a place, an item or a position.")
	}
	if err != nil {
		return Result{}, err
	}
	if len(o.Files)+len(o.Pictures) == 0 {
		return Result{}, invalid("Nothing is chosen: say which pictures to bring in.")
	}
	var pictures [][]byte
	for _, file := range o.Files {
		if err := ctx.Err(); err != nil {
			return Result{}, err
		}
		picture, err := photos.Read(file)
		if err != nil {
			return Result{}, err
		}
		pictures = append(pictures, picture)
	}
	var r Result
	err = s.Shop.Together(func(group *store.Shop) error {
		if err := record(group, of); err != nil {
			return err
		}
		for _, picture := range append(pictures, o.Pictures...) {
			if err := ctx.Err(); err != nil {
				return err
			}
			made, e, err := group.AddPhoto(of, o.Caption, picture)
			if err != nil {
				return err
			}
			r.Entry, r.Photos = e, append(r.Photos, made)
		}
		return nil
	})
	if err != nil {
		return Result{}, err
	}
	return r, nil
}

// record records the position that photographs are of, where it is not.
func record(shop *store.Shop, of store.Subject) error {
	if of.Position == "" {
		return nil
	}
	_, found, err := shop.PositionNamed(of.Aircraft, of.Position)
	if err == nil && !found {
		_, err = shop.PutPosition(store.PositionOf(of.Aircraft, of.Position))
	}
	return err
}

// DescribePhoto says what is on a photograph.
type DescribePhoto struct {
	Photo   string // P-17
	Caption string
}

// Do describes it. Result has the photograph.
func (o DescribePhoto) Do(_ context.Context, s *session.Session) (Result, error) {
	number, err := photoNumber(o.Photo)
	if err != nil {
		return Result{}, err
	}
	e, err := s.Shop.CaptionPhoto(number, o.Caption)
	if err != nil {
		return Result{}, err
	}
	photo, err := s.Shop.Photo(number)
	return Result{Entry: e, Photos: []store.Photo{photo}}, err
}

// RemovePhoto takes a photograph away; its bytes are kept for Undo.
type RemovePhoto struct{ Photo string } // P-17

// Do takes it away.
func (o RemovePhoto) Do(_ context.Context, s *session.Session) (Result, error) {
	number, err := photoNumber(o.Photo)
	if err != nil {
		return Result{}, err
	}
	return did(s.Shop.RemovePhoto(number))
}

func photoNumber(name string) (uint64, error) {
	number, ok := store.PhotoNumber(strings.TrimSpace(name))
	if !ok {
		return 0, invalid("%q does not name one photograph: photographs are called P-17.", name)
	}
	return number, nil
}
