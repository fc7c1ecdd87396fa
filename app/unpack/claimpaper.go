package unpack

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"stowright/app/session"
	"stowright/app/wording"
	"stowright/labels"
	"stowright/store"
	"stowright/store/output"
)

// mostPictures is how many photographs a claim on paper shows; it names all of them.
const mostPictures = 60

// paper is the claim as pages to print or to send, with its photographs.
func (c Claim) paper(shop *store.Reader) (labels.Paper, error) {
	p := labels.Paper{Title: strings.TrimSpace("Claim " + c.Order), Under: c.Came}
	if c.Supplier != "" {
		p.Under = append([]string{"To: " + c.Supplier}, p.Under...)
	}
	if len(c.Sections) == 0 {
		p.Blocks = append(p.Blocks, labels.Block{Texts: []string{"Nothing to claim."}})
	}
	for _, s := range c.Sections {
		b := labels.Block{Heading: s.Title, Columns: []labels.PaperColumn{
			{Title: "line", Width: 12, Mono: true}, {Title: "part number", Width: 42, Mono: true}, {Title: "description", Width: 42}, {Title: s.Title},
		}}
		for _, l := range s.Lines {
			b.Rows = append(b.Rows, []string{fmt.Sprint(l.Number), l.Designation, l.Title, wording.Joined("; ", l.Words, l.Worth, l.PhotoWords(), l.Sent)})
		}
		p.Blocks = append(p.Blocks, b)
	}
	if money := c.Money(); len(money) > 0 {
		p.Blocks = append(p.Blocks, labels.Block{Texts: money})
	}
	pictures, err := c.pictures(shop)
	if err != nil || len(pictures) == 0 {
		return p, err
	}
	p.Blocks = append(p.Blocks, labels.Block{Heading: "Photographs", Pictures: pictures})
	return p, nil
}

// pictures are the photographs that the claim names, each with its number, what it is of
// and its caption.
func (c Claim) pictures(shop *store.Reader) ([]labels.PaperPicture, error) {
	of := map[uint64]string{}
	for _, s := range c.Sections {
		for _, l := range s.Lines {
			for _, p := range l.Photos {
				of[p.Number] = fmt.Sprintf(", line %d, %s", l.Number, l.Designation)
			}
		}
	}
	var out []labels.PaperPicture
	for _, p := range c.Photos() {
		if len(out) == mostPictures {
			break
		}
		data, err := shop.Picture(p.Number)
		if err != nil {
			return nil, err
		}
		words := p.Name() + of[p.Number]
		if p.Caption != "" {
			words += ": " + p.Caption
		}
		out = append(out, labels.PaperPicture{JPEG: data, W: p.Width, H: p.Height, Caption: words})
	}
	return out, nil
}

// SaveClaim writes the claim of a shipment: as pages where the path ends in .pdf, with the
// photographs in it; else as text, with the photographs in a folder beside it. It says
// where they are.
func SaveClaim(s *session.Session, shipment, path string, replace bool) (said string, err error) {
	d, err := load(s, shipment)
	if err != nil {
		return "", err
	}
	return saveClaimOf(s, d.claim(), path, replace)
}

func saveClaimOf(s *session.Session, c Claim, path string, replace bool) (said string, err error) {
	if !strings.EqualFold(filepath.Ext(path), ".pdf") {
		return saveClaim(s.Shop, path, replace, c.Text(), c.Photos())
	}
	var paper labels.Paper
	err = s.Shop.Read(func(r *store.Reader) error {
		var err error
		paper, err = c.paper(r)
		return err
	})
	if err != nil {
		return "", err
	}
	doc, err := s.Lay(paper)
	if err != nil {
		return "", err
	}
	file := output.File{Path: path, Write: func(w io.Writer) error { return labels.PDF(w, doc, labels.PDFOptions{Made: s.Shop.Now()}) }}
	return "Saved to " + path + ", with its photographs.", output.Write(output.Options{Replace: replace, Shop: s.Shop.File()}, file)
}
