package store

import (
	"stowright/store/disk"
	"stowright/store/phrase"
)

// Answer is what a scanned or typed text turned out to be.
type Answer string

// The answers to a text that should be a tag.
const (
	TagFound    Answer = "found"
	TagRetired  Answer = "retired"  // issued by this shop, and out of use
	TagUnknown  Answer = "unknown"  // a good tag, and not one of this shop
	TagMistyped Answer = "mistyped" // its check character says that it was misread or mistyped
	TagForeign  Answer = "foreign"  // not a tag at all: another code
)

// Resolution is where the thing that a tag names is now. Path and Contents are
// empty unless the tag was found or is retired.
type Resolution struct {
	Text     string // as it was read
	Tag      Tag
	Answer   Answer
	Place    Place
	Path     []Place
	Contents []Holding // of the place itself
	Within   int       // how many places in use it holds
}

// Sentence says the answer to a person, with what to do.
func (r Resolution) Sentence() string {
	switch r.Answer {
	case TagFound:
		return PathText(r.Path)
	case TagRetired:
		if len(r.Path) == 0 {
			return "The tag " + r.Tag.Spaced() + " was of something that was undone and is not in this shop any more: take the label off."
		}
		return "The tag " + r.Tag.Spaced() + " was of " + PathText(r.Path) + ", which is out of use: take the label off."
	case TagUnknown:
		return "The tag " + r.Tag.Spaced() + " is not of this shop: look whether the right shop is open."
	case TagMistyped:
		return "That is not quite a tag: one of its characters is wrong. Read it again."
	}
	return "That code is not one of our tags: it says " + phrase.Quote(r.Text) + "."
}

// Resolve says what a scanned or typed text names. Whatever the text is, it gets
// an answer; the error is of the file only.
func (r *Reader) Resolve(text string) (Resolution, error) {
	is := Resolution{Text: text}
	tag, problem := ParseTag(text)
	switch problem {
	case NotATag:
		is.Answer = TagForeign
		return is, nil
	case Mistyped:
		is.Answer = TagMistyped
		return is, nil
	}
	is.Tag, is.Answer = tag, TagUnknown
	err := r.view(func(tx *disk.Tx) error {
		l := fileLedger{tx}
		record, found, err := lookup[tagRecord](l, tableTags, string(tag))
		if err != nil || !found {
			return err
		}
		is.Answer = TagFound
		place, exists, err := lookup[Place](l, tablePlaces, record.Place)
		if err != nil {
			return err
		}
		if record.Retired || !exists {
			is.Answer = TagRetired
		}
		if !exists {
			return nil
		}
		is.Place = place
		if is.Within, err = placesWithin(tx, place.ID); err != nil {
			return err
		}
		if is.Path, err = pathOf(l, place.ID); err != nil {
			return err
		}
		is.Contents, err = contents(tx, place.ID)
		return err
	})
	return is, err
}

// Tags are all tags in use, in no particular order: what a reader of pictures
// should look for.
func (r *Reader) Tags() ([]string, error) {
	var tags []string
	err := r.view(func(tx *disk.Tx) error {
		return scan(tx, tableTags, "", func(key string, r tagRecord) error {
			if !r.Retired {
				tags = append(tags, key)
			}
			return nil
		})
	})
	return tags, err
}
