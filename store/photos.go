package store

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"image/jpeg"
	"strconv"
	"strings"
	"time"

	"stowright/store/disk"
)

// Subject is what a photograph is of: a line of a packing list, a place (a drawer, a
// crate, a bag), an item or a position on an aircraft. Exactly one of them is named.
type Subject struct {
	Shipment string `json:"shipment,omitempty"` // id; with Line
	Line     LineID `json:"line,omitempty"`
	Place    string `json:"place,omitempty"`    // id
	Item     string `json:"item,omitempty"`     // designation
	Position string `json:"position,omitempty"` // "Tailplane / left / hinge 2", as it is recorded
	Aircraft string `json:"aircraft,omitempty"` // with Position: name; empty where the shop builds one only
}

// OfLine names a line of a packing list by the id of its shipment and its own.
func OfLine(shipment string, line LineID) Subject { return Subject{Shipment: shipment, Line: line} }

// OfPlace names a place by its id.
func OfPlace(id string) Subject { return Subject{Place: id} }

// OfItem names an item by its designation.
func OfItem(designation string) Subject { return Subject{Item: designation} }

// OfPosition names a position that is recorded.
func OfPosition(p Position) Subject { return Subject{Position: p.Name, Aircraft: p.Aircraft} }

// position is the position that is named.
func (s Subject) position() Position { return Position{Name: s.Position, Aircraft: s.Aircraft} }

// prefix begins the keys of a subject's photographs, so that they lie together.
func (s Subject) prefix() string {
	switch {
	case s.Item != "":
		return "item" + keySeparator + s.Item + keySeparator
	case s.Place != "":
		return "place" + keySeparator + s.Place + keySeparator
	case s.Position != "":
		return "position" + keySeparator + s.position().key() + keySeparator
	}
	return linePhotos(s.Shipment) + fmt.Sprintf("%06d", s.Line) + keySeparator
}

// reference is the record of what is named.
func (s Subject) reference() reference {
	switch {
	case s.Item != "":
		return reference{tableItems, s.Item}
	case s.Place != "":
		return reference{tablePlaces, s.Place}
	case s.Position != "":
		return reference{tablePositions, s.position().key()}
	}
	return reference{tableLines, lineKey(s.Shipment, s.Line)}
}

func linePhotos(shipment string) string { return "line" + keySeparator + shipment + keySeparator }

// single reports whether exactly one thing is named.
func (s Subject) single() bool {
	n := 0
	for _, named := range []bool{s.Item != "", s.Place != "", s.Shipment != "" && s.Line > 0, s.Position != ""} {
		if named {
			n++
		}
	}
	return n == 1 && (s.Shipment != "") == (s.Line != 0) && (s.Aircraft == "" || s.Position != "")
}

// Photo is what is known of a photograph. Its picture is kept beside it and read by
// Picture alone, so that nothing else of the shop has to carry it.
type Photo struct {
	Number  uint64    `json:"number"` // from 1, for life: a number is never given again
	Of      Subject   `json:"of"`
	Caption string    `json:"caption,omitempty"`
	At      time.Time `json:"at"` // when it was brought in
	Hand    string    `json:"hand"`
	Width   int       `json:"width"` // pixels
	Height  int       `json:"height"`
	Bytes   int       `json:"bytes"` // of the picture, a JPEG file
	SHA256  string    `json:"sha256"`
}

// Name is what people call it: P-17.
func (p Photo) Name() string { return photoName(p.Number) }

func photoName(number uint64) string { return "P-" + strconv.FormatUint(number, 10) }

// PhotoNumber reads a name such as P-17, or p17, or 17.
func PhotoNumber(name string) (uint64, bool) {
	digits := strings.TrimPrefix(strings.TrimPrefix(strings.ToUpper(strings.TrimSpace(name)), "P"), "-")
	n, err := strconv.ParseUint(digits, 10, 32)
	return n, err == nil && n > 0
}

func (p Photo) key() string { return p.Of.prefix() + fmt.Sprintf("%010d", p.Number) }

// What a picture that is kept may be. Callers bring photographs down to it.
const (
	MaxPhotoBytes = 2 << 20
	MaxPhotoSide  = 1600 // pixels
)

// AddPhoto keeps a photograph: a JPEG file within MaxPhotoSide and MaxPhotoBytes that
// carries no remarks of the camera, such as where it was taken.
func (s *Shop) AddPhoto(of Subject, caption string, picture []byte) (Photo, Entry, error) {
	var p Photo
	e, err := s.commit(VerbPhoto, func(w *writer) (string, error) {
		var err error
		if p, err = newPhoto(picture); err != nil {
			return "", err
		}
		p.Of, p.At, p.Hand = of, w.at, w.hand
		if p.Caption, err = cleanLong("What is on the photograph", caption); err != nil {
			return "", err
		}
		name, err := subjectName(w.ledger, of)
		if err != nil {
			return "", err
		}
		last, err := w.ledger.tx.LastBlob(paperBlobs)
		if err != nil {
			return "", err
		}
		p.Number = last + 1
		if err := w.ledger.tx.PutBlob(p.Number, picture); err != nil {
			return "", err
		}
		text := fmt.Sprintf("photograph %s of %s", p.Name(), name)
		if p.Caption != "" {
			text += ": " + p.Caption
		}
		return text, w.put(tablePhotos, p.key(), p)
	})
	return p, e, err
}

// newPhoto looks at a picture, which may come from anywhere.
func newPhoto(picture []byte) (Photo, error) {
	refused := func(format string, args ...any) (Photo, error) {
		return Photo{}, fail(Invalid, "photograph", "The photograph "+format, args...)
	}
	if len(picture) > MaxPhotoBytes {
		return refused("has %d bytes, and %d are kept at most: save it smaller.", len(picture), MaxPhotoBytes)
	}
	config, err := jpeg.DecodeConfig(bytes.NewReader(picture))
	if err != nil || !bytes.HasSuffix(picture, []byte{0xff, 0xd9}) {
		return refused("is not a complete JPEG picture: save it as JPEG.")
	}
	if max(config.Width, config.Height) > MaxPhotoSide || config.Width < 1 || config.Height < 1 {
		return refused("has %d x %d pixels, and %d are kept at most on a side: save it smaller.", config.Width, config.Height, MaxPhotoSide)
	}
	if !withoutRemarks(picture) {
		return refused("carries remarks of the camera, such as where it was taken: save it without.")
	}
	sum := sha256.Sum256(picture)
	return Photo{Width: config.Width, Height: config.Height, Bytes: len(picture), SHA256: hex.EncodeToString(sum[:])}, nil
}

// withoutRemarks reports whether a JPEG file has no segments for anything but the picture,
// up to where its data starts. Source: ITU-T T.81 annex B, the markers APPn and COM.
func withoutRemarks(picture []byte) bool {
	for at := 2; at+4 <= len(picture) && picture[at] == 0xff; {
		switch marker := picture[at+1]; {
		case marker == 0xda: // start of scan
			return true
		case marker >= 0xe1 && marker <= 0xef && marker != 0xee, marker == 0xfe: // 0xee says how colours are meant
			return false
		}
		at += 2 + int(picture[at+2])<<8 + int(picture[at+3])
	}
	return false
}

// SubjectText names what a photograph is of: "line 5 OQ-10-020", a part number, or a
// place with where it is.
func (r *Reader) SubjectText(of Subject) (name string, err error) {
	err = r.view(func(tx *disk.Tx) error {
		if of.Place != "" {
			path, err := pathOf(fileLedger{tx}, of.Place)
			name = PathText(path)
			return err
		}
		name, err = subjectName(fileLedger{tx}, of)
		return err
	})
	return name, err
}

// subjectName names what a photograph is to be of, which has to be there.
func subjectName(l ledger, of Subject) (name string, err error) {
	var found bool
	switch {
	case !of.single():
		return "", fail(Invalid, "photograph", "Say what the photograph is of: one line, one place, one item or one position.")
	case of.Item != "":
		_, found, err = lookup[Item](l, tableItems, of.Item)
		name = of.Item
	case of.Place != "":
		var p Place
		p, found, err = lookup[Place](l, tablePlaces, of.Place)
		name = p.Name
	case of.Position != "":
		_, found, err = lookup[Position](l, tablePositions, of.position().key())
		name = strings.TrimSpace("position " + of.Position + " " + onAircraft(of.Aircraft))
	default:
		var line Line
		line, found, err = lookup[Line](l, tableLines, lineKey(of.Shipment, of.Line))
		name = fmt.Sprintf("line %d %s", line.Number(), line.Designation)
	}
	if err == nil && !found {
		err = fail(NotFound, "photograph", "What the photograph is of is not in this shop: look for it again.")
	}
	return name, err
}

// onAircraft is "on Q", empty where the shop builds one aircraft only.
func onAircraft(name string) string {
	if name == "" {
		return ""
	}
	return "on " + name
}

// RemovePhoto takes a photograph away. Its picture stays in the file, so that Undo
// brings it back.
func (s *Shop) RemovePhoto(number uint64) (Entry, error) {
	return s.commit(VerbPhoto, func(w *writer) (string, error) {
		p, err := photoOf(w.ledger.tx, number)
		if err != nil {
			return "", err
		}
		name, err := subjectName(w.ledger, p.Of)
		if err != nil {
			return "", err
		}
		before, err := w.ledger.get(tablePhotos, p.key())
		if err != nil {
			return "", err
		}
		return fmt.Sprintf("photograph %s of %s taken away", p.Name(), name), w.change(Change{Table: tablePhotos, Key: p.key(), Before: before})
	})
}

// CaptionPhoto says what is on a photograph.
func (s *Shop) CaptionPhoto(number uint64, caption string) (Entry, error) {
	return s.commit(VerbPhoto, func(w *writer) (string, error) {
		p, err := photoOf(w.ledger.tx, number)
		if err != nil {
			return "", err
		}
		if p.Caption, err = cleanLong("What is on the photograph", caption); err != nil {
			return "", err
		}
		return fmt.Sprintf("photograph %s described: %s", p.Name(), p.Caption), w.put(tablePhotos, p.key(), p)
	})
}

// photoOf finds a photograph by its number: keys are looked through, and one record is read.
func photoOf(tx *disk.Tx, number uint64) (p Photo, err error) {
	photos, err := tx.Bucket(tablePhotos)
	if err != nil {
		return p, err
	}
	end := fmt.Appendf(nil, "%s%010d", keySeparator, number)
	_, body, err := photos.First(func(key []byte) bool { return bytes.HasSuffix(key, end) })
	if err != nil {
		return p, err
	}
	if body == nil {
		return p, fail(NotFound, photoName(number), "There is no photograph %s in this shop: look at the list again.", photoName(number))
	}
	return decode[Photo](body)
}

// Photos are the photographs of a subject, the oldest first.
func (r *Reader) Photos(of Subject) ([]Photo, error) {
	return all[Photo](r, tablePhotos, of.prefix())
}

// AllPhotos are all photographs: those of items, of lines and of places.
func (r *Reader) AllPhotos() ([]Photo, error) { return all[Photo](r, tablePhotos, "") }

// PhotosOfLines are the photographs of the lines of a shipment by line.
func (r *Reader) PhotosOfLines(shipment string) (map[LineID][]Photo, error) {
	list, err := all[Photo](r, tablePhotos, linePhotos(shipment))
	lines := map[LineID][]Photo{}
	for _, p := range list {
		lines[p.Of.Line] = append(lines[p.Of.Line], p)
	}
	return lines, err
}

// Photo is the photograph of a number.
func (r *Reader) Photo(number uint64) (Photo, error) {
	var p Photo
	err := r.view(func(tx *disk.Tx) error {
		var err error
		p, err = photoOf(tx, number)
		return err
	})
	return p, err
}
