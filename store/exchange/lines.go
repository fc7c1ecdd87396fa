package exchange

import (
	"bufio"
	"bytes"
	"context"
	_ "embed" // the schema
	"errors"
	"fmt"
	"hash"
	"hash/crc32"
	"io"

	"stowright/store"
	"stowright/store/disk"
	"stowright/store/fault"
	"stowright/store/output"
	"stowright/store/progress"
)

// exportVersion is the version of the lines that Export writes. From 2 on, entries may carry
// the hash of the one before: a program that knows 1 alone would take that for damage.
const exportVersion = 2

//go:embed export.schema.json
var exportSchema []byte

// Schema is the JSON Schema of one line of an export.
func Schema() []byte { return bytes.Clone(exportSchema) }

// progressEvery is how many entries lie between two reports of progress.
const progressEvery = 4096

// exportBuffer is how many bytes of an export are written or read in one go.
const exportBuffer = 64 << 10

// castagnoli is the polynomial of the checksum of an export.
func castagnoli() *crc32.Table { return crc32.MakeTable(crc32.Castagnoli) }

// exportHead is the first line of an export.
type exportHead struct {
	Stowright string `json:"stowright"` // "export"
	Version   int    `json:"version"`
	Entries   uint64 `json:"entries"` // in the lines that follow
}

// exportTail is the last line of an export: without it the export was cut short.
type exportTail struct {
	End exportEnd `json:"end"`
}

type exportEnd struct {
	Entries uint64 `json:"entries"`
	Records uint64 `json:"records"`
	CRC32C  string `json:"crc32c"` // of all bytes before this line
}

// What the lines of entries and of records start with.
const (
	entryLine  = `{"entry":`
	recordLine = `{"record":{"table":`
)

// Export writes everything that a shop holds as lines of JSON: a head, each entry
// of the journal as it is kept, each record that they add up to, and an end that
// says that nothing is missing. The same shop gives the same bytes. What the lines
// hold is described in EXPORT.md and by Schema. The pictures of photographs are
// not among the lines: ExportArchive writes them too.
func Export(ctx context.Context, shop *store.Shop, to io.Writer) error {
	return exportError(ctx, shop.Snapshot(func(tx *disk.Tx) error { return exportLines(ctx, tx, to, exportVersion) }))
}

func exportLines(ctx context.Context, tx *disk.Tx, to io.Writer, version int) error {
	out := &lineWriter{ctx: ctx, to: bufio.NewWriterSize(to, exportBuffer), sum: crc32.New(castagnoli())}
	journal, err := tx.End()
	if err != nil {
		return err
	}
	head := exportHead{Stowright: "export", Version: version, Entries: journal.Seq}
	if err := out.value(head); err != nil {
		return err
	}
	end := exportEnd{Entries: head.Entries}
	err = tx.Records(func(r disk.Record, damage error) error {
		if damage != nil {
			return damage
		}
		if r.Seq%progressEvery == 0 {
			progress.Report(ctx, "writing entries", progress.Share(r.Seq, head.Entries))
		}
		return out.line(entryLine, string(r.Body), "}")
	})
	if err != nil {
		return err
	}
	if end.Records, err = out.records(tx); err != nil {
		return err
	}
	end.CRC32C = fmt.Sprintf("%08x", out.sum.Sum32())
	return errors.Join(out.value(exportTail{end}), out.to.Flush())
}

func exportError(ctx context.Context, err error) error {
	var ours *fault.Error
	switch {
	case err == nil:
		return nil
	case ctx.Err() != nil:
		return ctx.Err()
	case errors.As(err, &ours):
		return err
	}
	return &fault.Error{Kind: fault.Internal, Message: "The export could not be written: see that the disk has room, then try again.", Err: err}
}

// lineWriter writes lines and sums them up.
type lineWriter struct {
	ctx context.Context
	to  *bufio.Writer
	sum hash.Hash32
}

func (w *lineWriter) line(parts ...string) error {
	if err := w.ctx.Err(); err != nil {
		return err
	}
	for _, p := range append(parts, "\n") {
		_, _ = io.WriteString(w.sum, p) // a hash takes everything
		if _, err := w.to.WriteString(p); err != nil {
			return err
		}
	}
	return nil
}

func (w *lineWriter) value(v any) error {
	body, err := encode(v)
	if err != nil {
		return err
	}
	return w.line(string(body))
}

// records writes all records of all tables, in the order of the tables and keys.
func (w *lineWriter) records(tx *disk.Tx) (n uint64, err error) {
	err = store.EachRecord(tx, func(table, key string, body []byte) error {
		name, err := encode(key)
		if err != nil {
			return err
		}
		n++
		return w.line(recordLine, `"`, table, `","key":`, string(name), `,"value":`, string(body), "}}")
	})
	return n, err
}

// ExportFile writes an export to a file.
func ExportFile(ctx context.Context, shop *store.Shop, path string, replace bool) error {
	return writeFile(shop, path, replace, func(w io.Writer) error { return Export(ctx, shop, w) })
}

// writeFile writes a file for people, over one that is there already only where replace
// says so.
func writeFile(shop *store.Shop, path string, replace bool, write func(w io.Writer) error) error {
	return output.Write(output.Options{Replace: replace, Shop: shop.File()}, output.File{Path: path, Write: write})
}
