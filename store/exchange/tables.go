package exchange

import (
	"context"
	"encoding/csv"
	"errors"
	"io"
	"path/filepath"
	"strconv"
	"strings"

	"stowright/store"
	"stowright/store/output"
)

// ExportCSV writes what a shop holds as tables for people, each a CSV file in
// UTF-8 with a heading, into a folder, all or none: over tables that are there already
// only where replace says so. It cannot be brought in again: Export is for that. The
// files are returned.
func ExportCSV(ctx context.Context, shop *store.Shop, folder string, replace bool) ([]string, error) {
	sheets := store.Sheets()
	all, err := readSheets(ctx, shop, sheets)
	if err != nil {
		return nil, err
	}
	var names []string
	var files []output.File
	for i, sheet := range sheets {
		path := filepath.Join(folder, sheet.File)
		names = append(names, path)
		files = append(files, output.File{Path: path, MakeFolder: true, Write: func(w io.Writer) error { return writeSheet(all[i], w) }})
	}
	if err := output.Write(output.Options{Replace: replace, Shop: shop.File()}, files...); err != nil {
		return nil, err
	}
	return names, nil
}

// readSheets reads all tables for people, as they are in one state of the shop.
func readSheets(ctx context.Context, shop *store.Shop, sheets []store.Sheet) (all [][][]string, err error) {
	err = shop.Read(func(r *store.Reader) error {
		for _, sheet := range sheets {
			rows, err := sheet.Rows(r)
			if err := errors.Join(err, ctx.Err()); err != nil {
				return err
			}
			all = append(all, rows)
		}
		return nil
	})
	return all, err
}

func writeSheet(rows [][]string, w io.Writer) error {
	out := csv.NewWriter(w)
	for _, row := range rows {
		for i, cell := range row {
			row[i] = plainCell(cell)
		}
		if err := out.Write(row); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// plainCell keeps a spreadsheet from taking a text for a formula (the advice of
// OWASP on CSV injection): an apostrophe before it makes it a text.
func plainCell(s string) string {
	if s != "" && strings.ContainsRune("=+-@\t\r", rune(s[0])) {
		if _, err := strconv.ParseFloat(s, 64); err != nil {
			return "'" + s
		}
	}
	return s
}
