package exchange

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

	"stowright/store"
	"stowright/store/disk"
	"stowright/store/fault"
)

// Import makes a shop file of an export. The file must not be there yet. The
// export is not trusted: each entry is done again as if by hand, the result must
// give the same export byte for byte, and until it has, there is no file. An error
// names the line. Lines that name photographs are refused, since their pictures are
// in an archive: ImportArchive is for that.
func Import(ctx context.Context, path string, from io.Reader) error {
	lacking := func(k store.Kept) ([]byte, error) {
		return nil, fault.New(fault.Invalid, "export", "The export names %s, and lines do not hold it: bring the archive in that was exported as .zip, nothing was brought in.", k.What())
	}
	return importShop(ctx, path, from, lacking, func() error { return nil })
}

// importShop makes a shop file of lines, with pictures that are asked for one by one;
// done has the last word before the file gets its name.
func importShop(ctx context.Context, path string, from io.Reader, picture func(store.Kept) ([]byte, error), done func() error) error {
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
func importTemp(ctx context.Context, path string, from io.Reader, picture func(store.Kept) ([]byte, error), done func() error) (_ *disk.Temp, err error) {
	if err := disk.MakeFolder(path); err != nil {
		return nil, err
	}
	temp, err := disk.NewTemp(path, disk.BaseName(path))
	if err != nil {
		return nil, &fault.Error{Kind: fault.Invalid, Where: path, Message: fmt.Sprintf("%s cannot be written: name a file in a folder that may be.", path), Err: err}
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
	if _, err := store.Verify(ctx, temp.Path()); err != nil {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		return nil, &fault.Error{Kind: fault.Invalid, Where: "export", Message: "The export does not add up to a shop: get it again from where it was made, nothing was brought in.", Err: err}
	}
	return temp, nil
}

func importInto(ctx context.Context, path string, from io.Reader, picture func(store.Kept) ([]byte, error)) error {
	return store.NewFile(ctx, path, func(d *store.Draft) error {
		if err := newExportReader(ctx, from, d).read(); err != nil {
			return err
		}
		err := d.TakePictures(ctx, picture)
		var wrong *store.WrongPictureError
		if errors.As(err, &wrong) {
			return badArchive("%w", wrong)
		}
		return err
	})
}

// exportReader reads an export into a new shop.
type exportReader struct {
	ctx     context.Context
	from    *bufio.Reader
	sum     hash.Hash32
	into    *store.Draft
	line    int    // the number of the line that was read last
	before  uint32 // the sum of all lines before it
	records uint64
	end     disk.End
	chain   store.Chain
	batch   []disk.Record
	size    int // bytes of the batch
	longest int // bytes that a line may have
}

func newExportReader(ctx context.Context, from io.Reader, into *store.Draft) *exportReader {
	return &exportReader{ctx: ctx, from: bufio.NewReaderSize(from, exportBuffer), sum: crc32.New(castagnoli()), into: into, longest: disk.MaxRecord}
}

// maxBatch bounds what is kept in memory of entries that are not done yet.
const maxBatch = 8 << 20

// bad is an error in the line that was read last.
func (r *exportReader) bad(format string, args ...any) error {
	cause := fmt.Errorf(format, args...)
	return &fault.Error{
		Kind: fault.Invalid, Where: fmt.Sprintf("line %d", r.line), Err: cause,
		Message: fmt.Sprintf("The export is damaged or no export in line %d: get it again from where it was made, nothing was brought in.", r.line),
	}
}

// changed is the error where the line that was read last is not what follows the one before.
func (r *exportReader) changed(cause error) error {
	return &fault.Error{
		Kind: fault.Invalid, Where: fmt.Sprintf("line %d", r.line),
		Message: fmt.Sprintf("The export was changed after it was made, in line %d or the one before: %v. Get it again from where it was made, nothing was brought in.", r.line, cause),
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
	case head.Version < 1 || head.Version > exportVersion:
		return fault.New(fault.Invalid, "line 1", "The export has version %d, and this program reads versions 1 to %d: update the program.", head.Version, exportVersion)
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
	e, err := strictly[store.Entry](body)
	if err != nil || line[len(line)-1] != '}' {
		return r.bad("it is no entry: %w", err)
	}
	if e.Seq != r.end.Seq+1 || e.Undoes >= e.Seq {
		return r.bad("entry %d does not follow entry %d", e.Seq, r.end.Seq)
	}
	if err := r.chain.Follow(e, body); err != nil {
		return r.changed(err)
	}
	if reverses := e.Verb == store.VerbUndo || e.Verb == store.VerbRedo; reverses != (e.Undoes > 0) {
		return r.bad("entry %d of kind %q undoes entry %d", e.Seq, e.Verb, e.Undoes)
	}
	if err := r.into.Admit(e); err != nil {
		return r.bad("entry %d: %w", e.Seq, err)
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
	err := r.into.Replay(r.ctx, r.batch)
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
	shop := r.into.Shop()
	if err := exportError(r.ctx, shop.Snapshot(func(tx *disk.Tx) error { return exportLines(r.ctx, tx, again, head.Version) })); err != nil {
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
	var v T
	if err := json.Unmarshal(body, &v); err != nil {
		return v, fmt.Errorf("decoding %T: %w", v, err)
	}
	again, err := encode(v)
	if err == nil && !bytes.Equal(again, body) {
		err = errors.New("it is not spelled as this program does")
	}
	return v, err
}

// mustNotExist refuses to make a shop file over something that is there.
func mustNotExist(path string) error {
	if _, err := os.Lstat(path); !errors.Is(err, os.ErrNotExist) {
		return fault.New(fault.Conflict, path, "%s is there already, and nothing is overwritten: name a file that is not there.", path)
	}
	return nil
}

func errNotImported(path string, cause error) error {
	return &fault.Error{Kind: fault.Internal, Where: path, Message: fmt.Sprintf("%s could not be made: see that its folder may be written and its disk has room.", path), Err: cause}
}

func encode(v any) ([]byte, error) {
	body, err := json.Marshal(v)
	if err != nil {
		return nil, fmt.Errorf("encoding %T: %w", v, err)
	}
	return body, nil
}
