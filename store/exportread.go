package store

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"hash"
	"hash/crc32"
	"io"
	"os"

	"stowright/store/disk"
)

// ImportExport makes a shop file of an export. The file must not be there yet. The
// export is not trusted: each entry is done again as if by hand, the result must
// give the same export byte for byte, and until it has, there is no file. An error
// names the line. Lines that name photographs are refused, since their pictures are
// in an archive: ImportArchive is for that.
func ImportExport(ctx context.Context, path string, from io.Reader) error {
	lacking := func(p Photo) ([]byte, error) {
		return nil, fail(Invalid, "export", "The export names photograph %s, and lines hold no pictures: bring the archive in that was exported as .zip, nothing was brought in.", p.Name())
	}
	return importShop(ctx, path, from, lacking, func() error { return nil })
}

// importShop makes a shop file of lines, with pictures that are asked for one by one;
// done has the last word before the file gets its name.
func importShop(ctx context.Context, path string, from io.Reader, picture func(Photo) ([]byte, error), done func() error) error {
	if err := mustNotExist(path); err != nil {
		return err
	}
	temp, err := importTemp(ctx, path, from, picture, done)
	if err != nil {
		return err
	}
	defer temp.Discard()
	if err := temp.Become(path); err != nil {
		return errNotImported(path, temp.Named(err))
	}
	return nil
}

// importTemp is importShop up to the name: the file is a hidden one beside path.
func importTemp(ctx context.Context, path string, from io.Reader, picture func(Photo) ([]byte, error), done func() error) (_ *disk.Temp, err error) {
	if err := disk.MakeFolder(path); err != nil {
		return nil, err
	}
	temp, err := disk.NewTemp(path, disk.BaseName(path))
	if err != nil {
		return nil, &Error{Kind: Invalid, Where: path, Message: fmt.Sprintf("%s cannot be written: name a file in a folder that may be.", path), Err: err}
	}
	defer func() {
		if err != nil {
			temp.Discard()
			err = temp.Named(err)
		}
	}()
	if err := importInto(ctx, temp.Path(), from, picture); err != nil {
		return nil, err
	}
	if err := done(); err != nil {
		return nil, err
	}
	if _, err := Verify(ctx, temp.Path()); err != nil {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		return nil, &Error{Kind: Invalid, Where: "export", Message: "The export does not add up to a shop: get it again from where it was made, nothing was brought in.", Err: err}
	}
	return temp, nil
}

func importInto(ctx context.Context, path string, from io.Reader, picture func(Photo) ([]byte, error)) error {
	s, err := openShop(path, Options{}, disk.Options{Create: true})
	if err != nil {
		return err
	}
	s.file.SetUnsynced(true) // it counts only once it has its name, and is synced before
	r := newExportReader(ctx, from, s)
	if err = r.read(); err == nil {
		err = s.takePictures(ctx, r.photos, picture)
	}
	if err == nil {
		err = s.file.Sync()
	}
	if err := errors.Join(err, s.Close()); err != nil {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		return asError(err)
	}
	return nil
}

// exportReader reads an export into an empty shop.
type exportReader struct {
	ctx     context.Context
	from    *bufio.Reader
	sum     hash.Hash32
	shop    *Shop
	line    int    // the number of the line that was read last
	before  uint32 // the sum of all lines before it
	records uint64
	end     disk.End
	batch   []disk.Record
	photos  pictured
	size    int // bytes of the batch
	longest int // bytes that a line may have
}

func newExportReader(ctx context.Context, from io.Reader, s *Shop) *exportReader {
	return &exportReader{ctx: ctx, from: bufio.NewReaderSize(from, exportBuffer), sum: crc32.New(castagnoli()), shop: s, photos: pictured{}, longest: disk.MaxRecord}
}

// maxBatch bounds what is kept in memory of entries that are not done yet.
const maxBatch = 8 << 20

// bad is an error in the line that was read last.
func (r *exportReader) bad(format string, args ...any) error {
	cause := fmt.Errorf(format, args...)
	return &Error{
		Kind: Invalid, Where: fmt.Sprintf("line %d", r.line), Err: cause,
		Message: fmt.Sprintf("The export is damaged or no export in line %d: get it again from where it was made, nothing was brought in.", r.line),
	}
}

// next reads a line without its end.
func (r *exportReader) next() ([]byte, error) {
	if err := r.ctx.Err(); err != nil {
		return nil, err
	}
	r.line++
	r.before = r.sum.Sum32()
	var line []byte
	for {
		part, err := r.from.ReadSlice('\n')
		line = append(line, part...)
		switch {
		case len(line) > r.longest:
			return nil, r.bad("the line is longer than %d bytes", r.longest)
		case errors.Is(err, bufio.ErrBufferFull):
			continue
		case errors.Is(err, io.EOF):
			return nil, r.bad("the export was cut short")
		case err != nil:
			return nil, r.bad("reading: %w", err)
		}
		_, _ = r.sum.Write(line) // a hash takes everything
		return line[:len(line)-1], nil
	}
}

func (r *exportReader) read() error {
	line, err := r.next()
	if err != nil {
		return err
	}
	head, err := strictly[exportHead](line)
	switch {
	case err != nil || head.Stowright != "export":
		return r.bad("it does not start as an export: %w", err)
	case head.Version != exportVersion:
		return fail(Invalid, "line 1", "The export has version %d, and this program reads version %d: update the program.", head.Version, exportVersion)
	}
	for {
		line, err := r.next()
		if err != nil {
			return err
		}
		switch {
		case bytes.HasPrefix(line, []byte(entryLine)) && r.records == 0:
			err = r.entry(line)
		case bytes.HasPrefix(line, []byte(recordLine)):
			r.records++ // compared when all is done
		default:
			return r.finish(line, head)
		}
		if err != nil {
			return err
		}
	}
}

// entry takes one entry, which must be as this program would have written it.
func (r *exportReader) entry(line []byte) error {
	body := bytes.Clone(line[len(entryLine) : len(line)-1])
	e, err := strictly[Entry](body)
	if err != nil || line[len(line)-1] != '}' {
		return r.bad("it is no entry: %w", err)
	}
	if e.Seq != r.end.Seq+1 || e.Prev != r.end.Sum || e.Undoes >= e.Seq {
		return r.bad("entry %d does not follow entry %d", e.Seq, r.end.Seq)
	}
	if reverses := e.Verb == VerbUndo || e.Verb == VerbRedo; reverses != (e.Undoes > 0) {
		return r.bad("entry %d of kind %q undoes entry %d", e.Seq, e.Verb, e.Undoes)
	}
	for _, c := range e.Changes {
		if err := errors.Join(validChange(c), r.photos.note(c)); err != nil {
			return r.bad("entry %d: %w", e.Seq, err)
		}
	}
	r.end = disk.End{Seq: e.Seq, Sum: disk.Checksum(body)}
	r.batch = append(r.batch, disk.Record{Seq: e.Seq, Sum: r.end.Sum, Body: body})
	r.size += len(body)
	if r.size > maxBatch || len(r.batch) >= disk.ReplayBatch {
		return r.flush()
	}
	return nil
}

// flush does the entries of the batch.
func (r *exportReader) flush() error {
	err := r.shop.file.Replay(r.batch, r.ctx.Err)
	r.batch, r.size = nil, 0
	if err != nil && r.ctx.Err() == nil {
		return r.bad("the entries up to here cannot be done: %w", err)
	}
	return err
}

// finish takes the last line, and compares what was made with what was read.
func (r *exportReader) finish(line []byte, head exportHead) error {
	tail, err := strictly[exportTail](line)
	if err != nil {
		return r.bad("it is neither an entry nor a record nor the end: %w", err)
	}
	want := exportEnd{Entries: r.end.Seq, Records: r.records, CRC32C: fmt.Sprintf("%08x", r.before)}
	if tail.End != want || head.Entries != r.end.Seq {
		return r.bad("the end says %+v, and there are %+v", tail.End, want)
	}
	if _, err := r.from.ReadByte(); !errors.Is(err, io.EOF) {
		r.line++
		return r.bad("something follows the end")
	}
	if err := r.flush(); err != nil {
		return err
	}
	again := crc32.New(castagnoli())
	if err := r.shop.Export(r.ctx, again); err != nil {
		return err
	}
	if again.Sum32() != r.sum.Sum32() {
		return r.bad("the records are not what the entries add up to")
	}
	return nil
}

// strictly decodes a line that must be spelled as this program spells it, by which
// the entries in a damaged file are found too.
func strictly[T any](body []byte) (T, error) {
	v, err := decode[T](body)
	if err != nil {
		return v, err
	}
	again, err := encode(v)
	if err == nil && !bytes.Equal(again, body) {
		err = errors.New("it is not spelled as this program does")
	}
	return v, err
}

// validChange says what is wrong with a change that comes from outside: its table
// and key must be such as verbs make, and its record must be one.
func validChange(c Change) error {
	t, err := tableOf(c.Table)
	if err != nil {
		return err
	}
	added := c.Delta != nil
	if added != (t.by == adding) || added && (c.Before != nil || c.After != nil) {
		return fmt.Errorf("%s cannot be changed so", c.Table)
	}
	bodies := []json.RawMessage{c.Before, c.After}
	if added {
		bodies = []json.RawMessage{{}}
	}
	for _, body := range bodies {
		if body == nil {
			continue
		}
		if err := t.valid(c.Key, body); err != nil {
			return fmt.Errorf("%s: %w", c.Table, err)
		}
	}
	return nil
}

// mustNotExist refuses to make a shop file over something that is there.
func mustNotExist(path string) error {
	if _, err := os.Lstat(path); !errors.Is(err, os.ErrNotExist) {
		return fail(Conflict, path, "%s is there already, and nothing is overwritten: name a file that is not there.", path)
	}
	return nil
}

func errNotImported(path string, cause error) error {
	return &Error{Kind: Internal, Where: path, Message: fmt.Sprintf("%s could not be made: see that its folder may be written and its disk has room.", path), Err: cause}
}
