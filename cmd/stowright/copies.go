package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"stowright/app/wording"
	"stowright/store"
	"stowright/store/copies"
	"stowright/store/exchange"
)

// backupCommand makes a safe copy of the shop.
type backupCommand struct {
	To string `help:"Folder for the copy (default: backups, beside the shop file)." placeholder:"FOLDER" type:"path"`
}

// Run makes the copy, looks whether it is whole, and says where it lies.
func (c *backupCommand) Run(p *program) error {
	shop, err := p.open(false)
	if err != nil {
		return err
	}
	var made copies.Copy
	err = p.long(func(ctx context.Context) (err error) {
		made, err = copies.NewKeeper(shop, "").Make(ctx, c.To, copies.ByHand)
		return err
	})
	if err = errors.Join(err, shop.Close()); err != nil {
		return err
	}
	return p.emit(made, func(w io.Writer) error {
		_, err := fmt.Fprintf(w, "Copied, and the copy is whole: %s (%s).\n", made.File, made)
		return err
	})
}

func folderOr(folder, shopFile string) string {
	if folder == "" {
		return copies.Folder(shopFile)
	}
	return folder
}

// exportCommand writes everything in the shop as plain files.
type exportCommand struct {
	replaceFlag
	File   string `arg:"" optional:"" help:"File to write: .zip with the photographs, else JSON lines; - is standard output." placeholder:"FILE"`
	Tables string `help:"Write tables for people (CSV) into this folder." placeholder:"FOLDER" type:"path"`
	Schema bool   `help:"Print the JSON Schema of the lines."`
}

// exportReport is what export prints with --json.
type exportReport struct {
	Files []string `json:"files"`
}

// Run writes what was asked for.
func (c *exportCommand) Run(p *program) (err error) {
	if c.Schema {
		_, err := p.out.Write(exchange.Schema())
		return err
	}
	if c.File == "" && c.Tables == "" {
		return &usageError{errors.New("say where to: a file of JSON lines, or --tables and a folder")}
	}
	shop, err := p.read()
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, shop.Close()) }()
	if c.File == "-" {
		return exportLines(p, shop)
	}
	r := exportReport{Files: []string{}}
	if c.File != "" {
		if err := c.writeExport(p, shop); err != nil {
			return err
		}
		r.Files = append(r.Files, c.File)
	}
	if c.Tables != "" {
		tables, err := exchange.ExportCSV(p.ctx, shop, c.Tables, c.Replace)
		if err != nil {
			return err
		}
		r.Files = append(r.Files, tables...)
	}
	return p.emit(r, func(w io.Writer) error {
		_, err := fmt.Fprintf(w, "Written: %s.\n", strings.Join(r.Files, ", "))
		return err
	})
}

// exportLines prints the lines, and says to a person what they lack.
func exportLines(p *program, shop *store.Shop) error {
	words, err := besideLines(shop)
	if err != nil {
		return err
	}
	if words != "" {
		fmt.Fprintf(p.log, "The lines lack the pictures of %s: export to a file that ends in .zip for all.\n", words)
	}
	return exchange.Export(p.ctx, shop, p.out)
}

// writeExport writes an archive or lines, by the name of the file. Lines would lack
// the pictures of a shop that has some.
func (c *exportCommand) writeExport(p *program, shop *store.Shop) error {
	if isArchive(c.File) {
		return p.long(func(ctx context.Context) error { return exchange.ExportArchiveFile(ctx, shop, c.File, c.Replace) })
	}
	words, err := besideLines(shop)
	if err != nil {
		return err
	}
	if words != "" {
		return &usageError{fmt.Errorf("the shop has %s, which a file of lines cannot hold: name one that ends in .zip", words)}
	}
	return p.long(func(ctx context.Context) error { return exchange.ExportFile(ctx, shop, c.File, c.Replace) })
}

// besideLines says what a shop has that lines do not hold: "2 photographs and 1 paper"; "" for nothing.
func besideLines(shop *store.Shop) (words string, err error) {
	photographs, papers, err := shop.Pictures()
	var parts []string
	if photographs > 0 {
		parts = append(parts, wording.Plural(photographs, "photograph", "photographs"))
	}
	if papers > 0 {
		parts = append(parts, wording.Plural(papers, "paper", "papers"))
	}
	return strings.Join(parts, " and "), err
}

func isArchive(file string) bool { return strings.EqualFold(filepath.Ext(file), ".zip") }

// restoreCommand puts a safe copy, or an export, in the place of the shop file.
type restoreCommand struct {
	File  string `arg:"" optional:"" help:"A copy, or an export (.zip or .jsonl) for a shop that is not there yet (default: the newest good copy)." placeholder:"FILE" type:"path"`
	From  string `help:"Folder of the copies (default: backups, beside the shop file)." placeholder:"FOLDER" type:"path"`
	Yes   bool   `help:"Do it; without this, only what would be done is shown."`
	Older bool   `help:"Leave out later entries that can still be read in the shop file."`
}

// restoreReport is what restore prints with --json.
type restoreReport struct {
	Shop     string        `json:"shop"`
	Copy     *copies.Copy  `json:"copy"`    // null: none is good
	Bad      []copies.Copy `json:"bad"`     // newer ones that are damaged
	Missing  []string      `json:"missing"` // later entries that can be put back
	Differs  []string      `json:"differs"` // stock that would be otherwise, were they not
	Restored bool          `json:"restored"`
	Aside    string        `json:"aside"` // where the file as it was is kept
}

// Run shows the plan, and does it where that was said.
func (c *restoreCommand) Run(p *program) error {
	if isArchive(c.File) || strings.HasSuffix(c.File, ".jsonl") {
		return c.bringIn(p)
	}
	plan, err := c.plan(p)
	if err != nil {
		return err
	}
	r := restoreReport{Shop: p.shop, Bad: append([]copies.Copy{}, plan.Bad...), Missing: []string{}, Differs: []string{}}
	if plan.Copy.File != "" {
		r.Copy = &plan.Copy
	}
	for _, e := range plan.Missing {
		r.Missing = append(r.Missing, e.Text)
	}
	for _, d := range plan.Difference.Stock {
		r.Differs = append(r.Differs, d.String())
	}
	if c.Yes {
		err := p.long(func(ctx context.Context) (err error) {
			r.Aside, err = copies.Restore(ctx, plan, !c.Older)
			return err
		})
		if err != nil {
			return err
		}
		r.Restored = true
	}
	return p.emit(r, func(w io.Writer) error { return printRestore(w, plan, r, c.Older) })
}

func (c *restoreCommand) plan(p *program) (plan copies.Plan, err error) {
	err = p.long(func(ctx context.Context) (err error) {
		if c.File != "" {
			plan, err = copies.PlanRestoreFrom(ctx, p.shop, c.File)
		} else {
			plan, err = copies.PlanRestore(ctx, p.shop, folderOr(c.From, p.shop))
		}
		return err
	})
	return plan, err
}

// mostDiffering is how many heaps of stock are printed that would differ.
const mostDiffering = 20

func printRestore(w io.Writer, plan copies.Plan, r restoreReport, older bool) error {
	text := plan.Sentence() + "\n"
	if older || len(plan.Difference.Gained) > 0 {
		text += plan.Difference.Sentence() + "\n"
		for i, line := range r.Differs {
			if i == mostDiffering {
				text += fmt.Sprintf("  and %d more\n", len(r.Differs)-i)
				break
			}
			text += "  " + line + "\n"
		}
	}
	for _, b := range r.Bad {
		text += "The copy " + b.File + " is damaged itself.\n"
	}
	switch {
	case !r.Restored:
		text += "Nothing was done yet: say --yes to do it.\n"
	case r.Aside != "":
		text += "Done. The shop file as it was is kept as " + r.Aside + ".\n"
	default:
		text += "Done.\n"
	}
	_, err := io.WriteString(w, text)
	return err
}

// bringIn makes the shop file of an export.
func (c *restoreCommand) bringIn(p *program) error {
	r := restoreReport{Shop: p.shop, Bad: []copies.Copy{}, Missing: []string{}, Differs: []string{}, Restored: c.Yes}
	if c.Yes {
		if err := p.long(func(ctx context.Context) error { return c.importAny(ctx, p.shop) }); err != nil {
			return err
		}
	}
	return p.emit(r, func(w io.Writer) error {
		text := fmt.Sprintf("Done: %s is made of the export.\n", p.shop)
		if !c.Yes {
			text = fmt.Sprintf("The export would make the shop file %s. Nothing was done yet: say --yes to do it.\n", p.shop)
		}
		_, err := io.WriteString(w, text)
		return err
	})
}

func (c *restoreCommand) importAny(ctx context.Context, shop string) error {
	if isArchive(c.File) {
		return exchange.ImportArchive(ctx, shop, c.File)
	}
	f, err := os.Open(c.File)
	if err != nil {
		return &usageError{fmt.Errorf("reading the export: %w", err)}
	}
	defer f.Close()
	return exchange.Import(ctx, shop, f)
}
