package session

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"stowright/app/drawing"
	"stowright/app/wording"
	"stowright/labels"
	"stowright/store"
	"stowright/store/hardware"
	"stowright/store/measure"
)

// Pens of a printed outline, in millimetres on paper.
const (
	edgePen = 0.25
	finePen = 0.12
)

// labelPiece is a piece as a label draws it, at true size and without measures;
// nil where the tables do not suffice for a drawing.
func labelPiece(piece hardware.Result) *labels.Drawing {
	drawn := drawing.PieceOf(piece, measure.InInches)
	if drawn == nil {
		return nil
	}
	d := drawingOf(*drawn)
	return &d
}

// drawingOf is a picture of a piece in the strokes of paper.
func drawingOf(drawn drawing.Piece) labels.Drawing {
	var d labels.Drawing
	for _, p := range drawn.Paths {
		path := labels.Path{Closed: p.Closed, Pen: finePen, Dashed: p.Stroke == drawing.Hidden}
		if p.Stroke == drawing.Outline {
			path.Pen = edgePen
		}
		for _, at := range p.Points {
			path.Points = append(path.Points, labels.Point{X: at.X, Y: at.Y})
		}
		d.Strokes = append(d.Strokes, path)
	}
	return d
}

// TrueSize is a page with a piece at its real size, with the sources of its figures.
// It is an error where nothing is published to draw it by.
func TrueSize(piece hardware.Result, sheet labels.Stock) (labels.Document, error) {
	outline, ok := piece.Outline()
	if !piece.Known || !ok {
		return labels.Document{}, &store.Error{Kind: store.NotFound, Where: piece.Designation, Message: fmt.Sprintf("%s cannot be drawn at its real size: the tables have no measures for it.", cmp.Or(piece.Designation, piece.Input))}
	}
	page := labels.TrueSize{Name: piece.Designation, Title: Marked(piece.Title, piece)}
	for _, v := range outline.Views {
		words := []string{v.Name}
		for _, d := range v.Dimensions {
			words = append(words, d.Label)
		}
		page.Views = append(page.Views, labels.NamedDrawing{Drawing: drawingOf(drawing.PieceOfView(v, measure.InInches)), Caption: strings.Join(words, ", ")})
	}
	for _, note := range outline.Notes {
		page.Notes = append(page.Notes, wording.Sentence(note))
	}
	for _, f := range piece.Fields {
		if note := "Source: " + f.Source; f.Source != "" && !f.Unknown && !slices.Contains(page.Notes, note) {
			page.Notes = append(page.Notes, note)
		}
	}
	page.Notes = append(page.Notes, "Measuring cannot prove material, strength or source.")
	doc, err := page.Layout(sheet)
	if err != nil {
		return doc, &store.Error{Kind: store.Invalid, Where: piece.Designation, Message: wording.Sentence(err.Error())}
	}
	return doc, nil
}
