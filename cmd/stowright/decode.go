package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"stowright/app/session"
	"stowright/labels"
	"stowright/store/hardware"
)

// decodeCommand says what designations mean.
type decodeCommand struct {
	replaceFlag
	Designation []string `arg:"" help:"Designations as written anywhere: AN3-5A, \"an3 5a\", AN470AD4-3.5."`
	Draw        string   `help:"Save the piece at its real size as a PDF, to print and lay the piece on." placeholder:"FILE.pdf" type:"path"`
}

// Run prints all that the tables know of each. The answer is no when one of them
// is not known.
func (c *decodeCommand) Run(p *program) error {
	k, err := p.know()
	if err != nil {
		return err
	}
	results := make([]hardware.Result, 0, len(c.Designation))
	for _, d := range c.Designation {
		results = append(results, k.Decode(d))
	}
	if err := p.emit(hardware.Documented(results...), func(w io.Writer) error { return printResults(w, results) }); err != nil {
		return err
	}
	if err := c.draw(p, results); err != nil {
		return err
	}
	for _, r := range results {
		if !r.Known {
			return &noError{refusal(r), ""}
		}
	}
	return nil
}

// refusal says in a sentence why a designation means nothing.
func refusal(r hardware.Result) string {
	if r.Problem != "" {
		return r.Problem
	}
	input := []rune(r.Input)
	if len(input) > 64 {
		input = append(input[:64], '…')
	}
	return fmt.Sprintf("%q is not a designation of the tables: a kit part number means what its packing list says.", string(input))
}

// draw saves the page with the one piece that was asked about.
func (c *decodeCommand) draw(p *program, results []hardware.Result) error {
	switch {
	case c.Draw == "" || !results[0].Known:
		return nil
	case len(results) > 1:
		return &usageError{errors.New("--draw saves one piece: give one designation with it")}
	}
	doc, err := session.TrueSize(results[0], labels.OfficePaper(locale()))
	if err != nil {
		return err
	}
	if err := session.WritePDF(c.Draw, doc, labels.PDFOptions{Made: p.clock()}, c.files(p)); err != nil {
		return err
	}
	fmt.Fprintf(p.log, "Saved %s: print it at actual size, 100 %%.\n", c.Draw)
	return nil
}

func printResults(w io.Writer, results []hardware.Result) error {
	var b strings.Builder
	any := false
	for _, r := range results {
		if r.Known {
			any = true
			printResult(&b, r)
		}
	}
	if any {
		b.WriteString(caution + "\n")
	}
	_, err := io.WriteString(w, b.String())
	return err
}

func printResult(b *strings.Builder, r hardware.Result) {
	fmt.Fprintf(b, "%s  %s\n  %s\n", r.Designation, session.Marked(r.Title, r), r.Family)
	width := 0
	for _, f := range r.Fields {
		width = max(width, len(f.Name))
	}
	for _, f := range r.Fields {
		fmt.Fprintf(b, "  %-*s  %s\n", width, strings.ReplaceAll(f.Name, "_", " "), strings.TrimSpace(f.String()+" "+sourceWords(f.Source, f.Checked)))
	}
	fmt.Fprintf(b, "  %-*s  unknown: no published figure here; weigh a sample (stowright weigh --help)\n", width, "weight")
	if s := r.SupersededBy; s != nil {
		fmt.Fprintf(b, "  superseded by %s, one way only %s\n", s.Designation, sourceWords(s.Source, s.Checked))
		if s.Note != "" {
			fmt.Fprintf(b, "    %s\n", s.Note)
		}
	}
	for _, l := range r.LookAlikes {
		fmt.Fprintf(b, "  beware of %s: %s\n", l.Designation, l.Difference)
	}
	for _, warning := range r.Warnings {
		fmt.Fprintf(b, "  careful: %s\n", warning)
	}
}
