package main

import (
	"fmt"
	"io"
	"strings"

	"stowright/app/session"
	"stowright/labels/scan"
	"stowright/store"
)

// scanCommand reads the tags in pictures.
type scanCommand struct {
	Image []string `arg:"" help:"Pictures: PNG, JPEG or GIF." type:"path"`
}

// scannedCode is a code in the JSON answer. Kind is what the tag names, or
// "retired", "unknown", "mistyped" or "foreign". Corners are x, y in pixels: top
// left, top right, bottom right, bottom left of the symbol.
type scannedCode struct {
	Text     string        `json:"text"`
	Tag      string        `json:"tag"`
	Kind     string        `json:"kind"`
	How      string        `json:"how"`
	Corners  [4][2]float64 `json:"corners"`
	Names    string        `json:"names"`
	Contents []foundItem   `json:"contents"`
	sentence string
}

type scannedImage struct {
	File  string        `json:"file"`
	Codes []scannedCode `json:"codes"`
}

type scanAnswer struct {
	Images []scannedImage `json:"images"`
}

// Run says what every code in every picture names now.
func (c *scanCommand) Run(p *program) error {
	return p.withSession(func(s *session.Session) error {
		answer := scanAnswer{Images: []scannedImage{}}
		tags := 0
		for _, file := range c.Image {
			image, err := scanFile(p, s, file)
			if err != nil {
				return err
			}
			for _, code := range image.Codes {
				if code.Names != "" {
					tags++
				}
			}
			answer.Images = append(answer.Images, image)
		}
		if err := p.emit(answer, answer.print); err != nil {
			return err
		}
		if tags == 0 {
			return &noError{"no tag of this shop is in the picture: hold the camera closer, or give the label more light.", strings.Join(c.Image, ", ")}
		}
		return nil
	})
}

func scanFile(p *program, s *session.Session, file string) (scannedImage, error) {
	found := scannedImage{File: file, Codes: []scannedCode{}}
	picture, err := scan.Open(file)
	if err != nil {
		return found, &store.Error{Kind: store.Invalid, Where: file, Message: err.Error()}
	}
	readings, err := s.ReadPicture(p.ctx, scan.New(), picture)
	if err != nil {
		return found, err
	}
	for _, r := range readings {
		code := scannedCode{Text: r.Code.Text, Tag: string(r.Tag), Kind: string(r.Answer), How: r.Code.How.String(), Contents: []foundItem{}, sentence: r.Sentence()}
		for i, at := range r.Code.Corners {
			code.Corners[i] = [2]float64{at.X, at.Y}
		}
		if r.Answer == store.TagFound || r.Answer == store.TagRetired {
			code.Names = store.PathText(r.Path)
		}
		if r.Answer == store.TagFound {
			code.Kind = r.Tag.Kind().String()
		}
		for _, h := range r.Contents {
			code.Contents = append(code.Contents, foundItem{
				Designation: h.Item, Quantity: h.Amount.Plain(), Unit: string(h.Amount.Unit), Estimate: h.Amount.Estimate(), Places: []foundPlace{},
			})
		}
		found.Codes = append(found.Codes, code)
	}
	return found, nil
}

func (a scanAnswer) print(w io.Writer) error {
	var b strings.Builder
	for _, image := range a.Images {
		for _, code := range image.Codes {
			fmt.Fprintf(&b, "%s: %s\n", image.File, code.sentence)
			if code.How == scan.Recognised.String() {
				b.WriteString("  recognised by its looks: check the label before you book anything\n")
			}
			for _, item := range code.Contents {
				fmt.Fprintf(&b, "  %s  %s %s\n", item.Designation, item.Quantity, item.Unit)
			}
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}
