package store

import (
	"archive/zip"
	"context"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"slices"

	"stowright/store/disk"
	"stowright/store/progress"
)

// An archive is an export with its photographs: a ZIP file that holds export.jsonl
// and then each picture as a JPEG file, photos/P-17.jpg, those of photographs that
// were taken away too. Nothing in it is compressed, so that it never unpacks to more
// than it is. An empty picture is one that was lost in damage.
const (
	archiveLines  = "export.jsonl"
	archivePhotos = "photos/"
	photoExt      = ".jpg"
)

func archiveName(number uint64) string { return archivePhotos + photoName(number) + photoExt }

// ExportArchive writes everything that the shop holds, photographs too. The same shop
// gives the same bytes.
func (s *Shop) ExportArchive(ctx context.Context, to io.Writer) error {
	out := zip.NewWriter(progress.NewWriter(ctx, to, "writing the export", 0))
	err := s.view(func(tx *disk.Tx) error {
		w, err := out.CreateHeader(&zip.FileHeader{Name: archiveLines})
		if err == nil {
			err = exportLines(ctx, tx, w)
		}
		if err != nil {
			return err
		}
		return eachPicture(tx, func(number uint64) error { return writePicture(tx, out, number) })
	})
	if err == nil {
		err = out.Close()
	}
	return exportError(ctx, err)
}

// eachPicture calls do with the number of every picture, in order.
func eachPicture(tx *disk.Tx, do func(number uint64) error) error {
	for at := uint64(0); ; {
		next, err := tx.NextBlob(at)
		if err != nil || next == 0 {
			return err
		}
		if err := do(next); err != nil {
			return err
		}
		at = next
	}
}

func writePicture(tx *disk.Tx, out *zip.Writer, number uint64) error {
	picture, err := tx.Blob(number)
	if err != nil {
		return &Error{Kind: Corrupt, Where: photoName(number), Message: fmt.Sprintf("The picture of photograph %s is damaged: keep the file, and open a copy made earlier.", photoName(number)), Err: err}
	}
	w, err := out.CreateHeader(&zip.FileHeader{Name: archiveName(number)})
	if err == nil {
		_, err = w.Write(picture)
	}
	return err
}

// ExportArchiveFile writes an archive to a file.
func (s *Shop) ExportArchiveFile(ctx context.Context, path string, replace bool) error {
	return s.writeFile(path, replace, func(w io.Writer) error { return s.ExportArchive(ctx, w) })
}

// Pictures is how many pictures the shop keeps, with those of photographs that were
// taken away: what an export of lines alone would lack.
func (r *Reader) Pictures() (n int, err error) {
	err = r.view(func(tx *disk.Tx) error {
		return eachPicture(tx, func(uint64) error { n++; return nil })
	})
	return n, err
}

// ImportArchive makes a shop file of an archive, as ImportExport does of lines: the
// file must not be there yet, nothing in the archive is trusted, and until all of it
// has proven to be whole, there is no file. No name in it is ever used as a path.
func ImportArchive(ctx context.Context, path, archive string) error {
	return withArchive(archive, func(lines io.Reader, picture func(Photo) ([]byte, error), done func() error) error {
		return importShop(ctx, path, lines, picture, done)
	})
}

// ImportArchiveBeside is ImportArchive into a file that is to replace this shop, in which
// nothing was done yet: the file lies beside the shop's under a name of its own, which is
// returned. The shop may be open meanwhile.
func (s *Shop) ImportArchiveBeside(ctx context.Context, archive string) (temp *disk.Temp, err error) {
	head, err := s.Head()
	if err != nil {
		return nil, err
	}
	if head.Seq > 0 {
		return nil, fail(Conflict, s.File(), "This shop is not empty, and an export is never mixed into another shop: start on a shop file that is not there yet.")
	}
	err = withArchive(archive, func(lines io.Reader, picture func(Photo) ([]byte, error), done func() error) error {
		temp, err = importTemp(ctx, s.File(), lines, picture, done)
		return err
	})
	return temp, err
}

// withArchive opens an archive and has its lines and pictures read.
func withArchive(archive string, read func(lines io.Reader, picture func(Photo) ([]byte, error), done func() error) error) error {
	f, err := os.Open(archive)
	if err != nil {
		return &Error{Kind: NotFound, Where: archive, Message: fmt.Sprintf("%s cannot be read: name the archive that export wrote.", archive), Err: err}
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return disk.ErrUnreadable(archive, err)
	}
	files, err := archiveFiles(f, info.Size())
	if err != nil {
		return err
	}
	lines, err := files[archiveLines].Open()
	if err != nil {
		return badArchive("%s: %w", archiveLines, err)
	}
	defer lines.Close()
	return read(lines, func(p Photo) ([]byte, error) {
		name := archiveName(p.Number)
		entry := files[name]
		if entry == nil {
			return nil, badArchive("%s is missing", name)
		}
		delete(files, name)
		return readEntryOf(entry)
	}, func() error {
		delete(files, archiveLines)
		for _, name := range slices.Sorted(maps.Keys(files)) {
			return badArchive("%s is of no photograph", name)
		}
		return nil
	})
}

func badArchive(format string, args ...any) error {
	return fail(Invalid, "archive", "The archive is damaged or none of Stowright's (%v): get it again from where it was made, nothing was brought in.", fmt.Errorf(format, args...))
}

// archiveFiles are the files in an archive by name: such names only as ExportArchive
// gives, each once, none compressed, and no more bytes in all than the archive has.
func archiveFiles(from io.ReaderAt, size int64) (map[string]*zip.File, error) {
	in, err := zip.NewReader(from, size)
	if err != nil {
		return nil, badArchive("%w", err)
	}
	files := map[string]*zip.File{}
	total := uint64(0)
	for _, f := range in.File {
		var number uint64
		_, err := fmt.Sscanf(f.Name, archivePhotos+"P-%d"+photoExt, &number)
		isPhoto := err == nil && number > 0 && number <= maxPhotos && f.Name == archiveName(number)
		switch {
		case !isPhoto && f.Name != archiveLines:
			return nil, badArchive("it holds %s", quoteShort(f.Name))
		case files[f.Name] != nil:
			return nil, badArchive("it holds %s twice", f.Name)
		case f.Method != zip.Store || f.CompressedSize64 != f.UncompressedSize64:
			return nil, badArchive("%s is compressed", f.Name)
		case isPhoto && f.UncompressedSize64 > MaxPhotoBytes:
			return nil, badArchive("%s is too large", f.Name)
		case f.UncompressedSize64 > uint64(size)-min(total, uint64(size)):
			return nil, badArchive("it says that it holds more than it is")
		}
		total += f.UncompressedSize64
		files[f.Name] = f
	}
	if files[archiveLines] == nil {
		return nil, badArchive("it holds no %s", archiveLines)
	}
	return files, nil
}

func readEntryOf(f *zip.File) ([]byte, error) {
	r, err := f.Open()
	if err != nil {
		return nil, badArchive("%s: %w", f.Name, err)
	}
	picture, err := io.ReadAll(io.LimitReader(r, MaxPhotoBytes+1))
	if err := errors.Join(err, r.Close()); err != nil {
		return nil, badArchive("%s: %w", f.Name, err)
	}
	return picture, nil
}

// takePictures puts the pictures of photographs beside their records, each proven to
// be the one that was brought in. Where one cannot be had, from says so by no bytes.
func (s *Shop) takePictures(ctx context.Context, photos pictured, from func(Photo) ([]byte, error)) error {
	for _, number := range slices.Sorted(maps.Keys(photos)) {
		if err := ctx.Err(); err != nil {
			return err
		}
		p := photos[number]
		picture, err := from(p)
		if err != nil {
			return err
		}
		if err := p.Proves(picture); err != nil {
			return badArchive("%w", err)
		}
		if err := s.update(func(tx *disk.Tx) error { return tx.PutBlob(number, picture) }); err != nil {
			return err
		}
	}
	return nil
}

// Proves reports as an error whether a picture from outside is that of the photograph, and one that
// AddPhoto would have taken. No bytes are a picture that was lost.
func (p Photo) Proves(picture []byte) error {
	if len(picture) == 0 {
		return nil
	}
	if err := p.matches(picture); err != nil {
		return err
	}
	is, err := newPhoto(picture)
	if err == nil && (is.Width != p.Width || is.Height != p.Height) {
		err = fmt.Errorf("photograph %s is not of the size that is noted", p.Name())
	}
	return err
}
