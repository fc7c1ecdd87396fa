package main

import (
	"errors"
	"fmt"
	"image/png"
	"io"
	"strings"
	"text/tabwriter"

	"stowright/app/operation"
	"stowright/app/photos"
	"stowright/app/session"
	"stowright/store"
	"stowright/store/output"
)

// paperCommand records papers, lists them, shows one, and saves its file out.
type paperCommand struct {
	replaceFlag
	File  string `arg:"" optional:"" help:"The file of the paper, a PDF, JPEG or PNG of at most 16 MB: the shop keeps it. Without one it is on paper only (--kept)." type:"path"`
	Kind  string `help:"What it is: packing list, invoice, conformance statement, release form, test report, letter, bulletin, drawing, other." placeholder:"KIND"`
	Title string `help:"Its own number or name." placeholder:"WORDS"`
	By    string `help:"Who issued it." placeholder:"NAME"`
	Date  string `help:"Its own date." placeholder:"2026-03-10"`
	Kept  string `help:"Where the paper itself is kept." placeholder:"'binder 2'"`
	Note  string `help:"Anything else." placeholder:"WORDS"`
	Show  string `help:"Show the paper with this name, and what names it." placeholder:"PA-3"`
	Save  string `help:"Save the file of the paper with this name to --out." placeholder:"PA-3"`
	Page  string `help:"Save the first page of the paper with this name to --out, as a PNG picture." placeholder:"PA-3"`
	Out   string `help:"The file to save it to." type:"path" placeholder:"FILE"`
}

// paperRow is a paper in the JSON answer.
type paperRow struct {
	Paper   string     `json:"paper"`
	Kind    string     `json:"kind"`
	Title   string     `json:"title"`
	Issuer  string     `json:"issuer"`
	Date    store.Date `json:"date,omitzero"`
	Kept    string     `json:"kept"`
	Note    string     `json:"note"`
	File    string     `json:"file"` // its name; empty where it is on paper only
	Bytes   int64      `json:"bytes"`
	SHA256  string     `json:"sha256"`
	InShop  bool       `json:"in_shop"` // its file is kept, and not its checksum alone
	NamedBy []string   `json:"named_by"`
	Saved   string     `json:"saved,omitempty"`
}

type paperAnswer struct {
	Papers []paperRow `json:"papers"`
}

// Run does what was asked for.
func (c *paperCommand) Run(p *program) error {
	adds := c.File != "" || c.Kind != "" || c.Kept != "" || c.Title != "" || c.By != "" || c.Date != "" || c.Note != ""
	switch {
	case count(adds, c.Show != "", c.Save != "", c.Page != "") > 1:
		return &usageError{errors.New("a paper is added, shown or saved: give one of them")}
	case (c.Save+c.Page != "") != (c.Out != ""):
		return &usageError{errors.New("--save or --page goes with --out: say which paper, and to which file")}
	case adds && c.Kind == "":
		return &usageError{errors.New("say what the paper is: --kind letter")}
	case adds:
		return p.do(operation.AddPaper{Kind: c.Kind, Title: c.Title, Issuer: c.By, Date: c.Date, Kept: c.Kept, File: c.File, Note: c.Note})
	}
	return p.withSession(func(s *session.Session) error { return c.answer(p, s) })
}

// answer lists papers, or shows the one that is named and saves its file where that was asked for.
func (c *paperCommand) answer(p *program, s *session.Session) error {
	var a paperAnswer
	if err := s.Shop.Read(func(r *store.Reader) (err error) {
		a, err = c.list(r)
		return err
	}); err != nil {
		return err
	}
	if c.Out != "" {
		if err := c.save(p, s); err != nil {
			return err
		}
		a.Papers[0].Saved = c.Out
	}
	if len(a.Papers) == 0 {
		return errors.Join(p.emit(a, a.print), &noError{"there are no papers: add one with stowright paper FILE --kind letter.", ""})
	}
	if name := c.Show + c.Save + c.Page; name != "" {
		return p.emit(a.Papers[0], a.Papers[0].print)
	}
	return p.emit(a, a.print)
}

// list reads the paper that is named, or all of them.
func (c *paperCommand) list(r *store.Reader) (a paperAnswer, err error) {
	a.Papers = []paperRow{}
	name := c.Show + c.Save + c.Page
	papers, err := r.Papers()
	if name != "" && err == nil {
		number, _ := store.PaperNumber(name)
		var one store.Paper
		one, err = r.Paper(number)
		papers = []store.Paper{one}
	}
	for _, paper := range papers {
		if err != nil {
			return a, err
		}
		row := paperRow{Paper: paper.Name(), Kind: string(paper.Kind), Title: paper.Title, Issuer: paper.Issuer, Date: paper.Date, Kept: paper.Kept, Note: paper.Note}
		if f := paper.File; f != nil {
			row.File, row.Bytes, row.SHA256, row.InShop = f.Name, f.Bytes, f.SHA256, f.In > 0
		}
		if row.NamedBy, err = r.NamesPaper(paper.Number); row.NamedBy == nil {
			row.NamedBy = []string{}
		}
		a.Papers = append(a.Papers, row)
	}
	return a, err
}

// pageSide is how many pixels the longer side of a first page has.
const pageSide = 1600

// save writes the file of a paper as it was brought in, or its first page as a picture.
func (c *paperCommand) save(p *program, s *session.Session) error {
	number, _ := store.PaperNumber(c.Save + c.Page)
	if c.Page != "" {
		page, err := photos.FirstPage(p.ctx, s.Shop, number, pageSide)
		if err != nil {
			return err
		}
		return output.Write(c.files(p), output.File{Path: c.Out, Write: func(w io.Writer) error { return png.Encode(w, page) }})
	}
	data, err := s.Shop.PaperBytes(number)
	if err != nil {
		return err
	}
	return output.Write(c.files(p), output.File{Path: c.Out, Write: func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	}})
}

// where says where a paper is.
func (r paperRow) where() string {
	switch {
	case r.InShop:
		return fmt.Sprintf("%s, %d kB", r.File, (r.Bytes+999)/1000)
	case r.File != "":
		return r.File + ", checksum alone"
	}
	return r.Kept
}

func (r paperRow) day() string {
	if r.Date.IsZero() {
		return ""
	}
	return r.Date.String()
}

func (a paperAnswer) print(w io.Writer) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, r := range a.Papers {
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\t%s\n", r.Paper, r.Kind, r.Title, r.Issuer, r.day(), r.where())
	}
	return t.Flush()
}

func (r paperRow) print(w io.Writer) error {
	for _, f := range []struct{ name, text string }{
		{"paper", strings.TrimSpace(r.Paper + " " + r.Kind)},
		{"title", r.Title},
		{"issued by", r.Issuer},
		{"date", r.day()},
		{"kept", r.Kept},
		{"file", r.File},
		{"in the shop", map[bool]string{true: fmt.Sprintf("%d bytes", r.Bytes)}[r.InShop]},
		{"sha-256", r.SHA256},
		{"note", r.Note},
		{"named by", strings.Join(r.NamedBy, ", ")},
		{"saved to", r.Saved},
	} {
		if f.text == "" {
			continue
		}
		if _, err := fmt.Fprintf(w, "%s: %s\n", f.name, f.text); err != nil {
			return err
		}
	}
	return nil
}
