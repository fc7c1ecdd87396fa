package photos

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"

	"stowright/labels/scan"
	"stowright/store"
	"stowright/store/packinglist/pdftext"
)

// FirstPage is the first page of the file of a paper as a picture, with so many pixels on its
// longer side at most, for screens and reports. The first PDF on a computer takes seconds.
func FirstPage(ctx context.Context, shop *store.Shop, number uint64, side int) (image.Image, error) {
	data, err := shop.PaperBytes(number)
	if err != nil {
		return nil, err
	}
	refused := func(err error) error {
		return &store.Error{Kind: store.Invalid, Where: store.PaperName(number), Message: fmt.Sprintf("The file of paper %s %v.", store.PaperName(number), err)}
	}
	if ext, err := store.PaperForm(data); err != nil || ext != ".pdf" {
		picture, err := scan.Decode(bytes.NewReader(data))
		var problem *scan.PictureError
		if errors.As(err, &problem) {
			return nil, refused(errors.New(problem.Reason))
		}
		if err != nil {
			return nil, err
		}
		return scaled(picture, side), nil
	}
	drawer, err := pdftext.NewDrawer()
	if err != nil {
		return nil, err
	}
	defer drawer.Close()
	picture, err := drawer.FirstPage(ctx, data, side)
	if err != nil && ctx.Err() == nil {
		err = refused(err)
	}
	return picture, err
}
