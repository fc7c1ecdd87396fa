package session

import (
	"context"
	"fmt"
	"time"

	"stowright/labels"
	"stowright/labels/scan"
	"stowright/store"
)

// readBackDots is how many dots to the millimetre a code is drawn with to be read back: 300
// an inch, as the coarsest printers of labels have.
const readBackDots = 300 / 25.4

// readBackTime is how long reading one code may take: it takes some milliseconds, and a
// computer that is busy shall not make it unreadable.
const readBackTime = time.Minute

// ReadBack reads every code of a document with the program's own reader, as it will be
// printed, and returns an error that names the first label whose code does not say its tag.
// list are the labels that were laid out; tell is called with the part of the pages that
// is done, from 0 to 1. It is work for the background.
func ReadBack(ctx context.Context, doc labels.Document, list []labels.Label, tell func(done float64)) error {
	reader := scan.New()
	for n, page := range doc.Pages {
		tell(float64(n) / float64(len(doc.Pages)))
		pictures, err := labels.CodePictures(page, readBackDots)
		if err != nil {
			return err
		}
		for _, p := range pictures {
			report, err := reader.Read(ctx, p.Image, scan.Options{TagsOnly: true, Budget: readBackTime})
			if err != nil {
				return fmt.Errorf("reading the codes back: %w", err)
			}
			if len(report.Codes) == 1 && report.Codes[0].How == scan.Read && report.Codes[0].Text == p.Text && p.Text == list[p.Label].Tag {
				continue
			}
			return &store.Error{Kind: store.Internal, Where: p.Text, Message: fmt.Sprintf(
				"The code of %s (%s) on sheet %d cannot be read back, so the labels are not offered: choose another stock, and tell us.", list[p.Label].Name, labels.SpacedTag(p.Text), n+1)}
		}
	}
	return nil
}
