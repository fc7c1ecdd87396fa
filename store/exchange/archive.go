package exchange

import (
	"archive/zip"
	"context"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"slices"
	"strings"

	"stowright/store"
	"stowright/store/disk"
	"stowright/store/fault"
	"stowright/store/phrase"
	"stowright/store/progress"
)

// An archive is an export with its photographs and papers: a ZIP file that holds export.jsonl
// and then each picture as a JPEG file, photos/P-17.jpg, those of photographs that
// were taken away too, and each file of a paper as it was brought in, papers/PA-3.pdf. Nothing in
// it is compressed, so that it never unpacks to more than it is. An empty picture or file is one
// that was lost in damage.
const (
	archiveLines  = "export.jsonl"
	archivePhotos = "photos/"
	archivePapers = "papers/"
	photoExt      = ".jpg"
	lostExt       = ".lost" // of the file of a paper
)

// archiveName is the name of a picture or of a file in an archive, by the number of its blob
// and by what is in it.
func archiveName(number uint64, data []byte) string {
	name := store.KeptName(number)
	if !store.IsPaper(number) {
		return archivePhotos + name + photoExt
	}
	ext, err := store.PaperForm(data)
	if err != nil {
		ext = lostExt
	}
	return archivePapers + name + ext
}

// ExportArchive writes everything that a shop holds, photographs too. The same shop
// gives the same bytes.
func ExportArchive(ctx context.Context, shop *store.Shop, to io.Writer) error {
	out := zip.NewWriter(progress.NewWriter(ctx, to, "writing the export", 0))
	err := shop.Snapshot(func(tx *disk.Tx) error {
		w, err := out.CreateHeader(&zip.FileHeader{Name: archiveLines})
		if err == nil {
			err = exportLines(ctx, tx, w, exportVersion)
		}
		if err != nil {
			return err
		}
		return store.EachPicture(tx, func(number uint64) error { return writePicture(tx, out, number) })
	})
	if err == nil {
		err = out.Close()
	}
	return exportError(ctx, err)
}

func writePicture(tx *disk.Tx, out *zip.Writer, number uint64) error {
	picture, err := tx.Blob(number)
	if err != nil {
		return &fault.Error{Kind: fault.Corrupt, Where: store.KeptName(number), Message: fmt.Sprintf("What the shop keeps as %s is damaged: keep the file, and open a copy made earlier.", store.KeptName(number)), Err: err}
	}
	w, err := out.CreateHeader(&zip.FileHeader{Name: archiveName(number, picture)})
	if err == nil {
		_, err = w.Write(picture)
	}
	return err
}

// ExportArchiveFile writes an archive to a file.
func ExportArchiveFile(ctx context.Context, shop *store.Shop, path string, replace bool) error {
	return writeFile(shop, path, replace, func(w io.Writer) error { return ExportArchive(ctx, shop, w) })
}

// ImportArchive makes a shop file of an archive, as Import does of lines: the
// file must not be there yet, nothing in the archive is trusted, and until all of it
// has proven to be whole, there is no file. No name in it is ever used as a path.
func ImportArchive(ctx context.Context, path, archive string) error {
	return withArchive(archive, func(lines io.Reader, picture func(store.Kept) ([]byte, error), done func() error) error {
		return importShop(ctx, path, lines, picture, done)
	})
}

// ImportArchiveBeside is ImportArchive into a file that is to replace a shop, in which
// nothing was done yet: the file lies beside the shop's under a name of its own, which is
// returned. The shop may be open meanwhile.
func ImportArchiveBeside(ctx context.Context, shop *store.Shop, archive string) (temp *disk.Temp, err error) {
	head, err := shop.End()
	if err != nil {
		return nil, err
	}
	if head.Seq > 0 {
		return nil, fault.New(fault.Conflict, shop.File(), "This shop is not empty, and an export is never mixed into another shop: start on a shop file that is not there yet.")
	}
	err = withArchive(archive, func(lines io.Reader, picture func(store.Kept) ([]byte, error), done func() error) error {
		temp, err = importTemp(ctx, shop.File(), lines, picture, done)
		return err
	})
	return temp, err
}

// withArchive opens an archive and has its lines and pictures read.
func withArchive(archive string, read func(lines io.Reader, picture func(store.Kept) ([]byte, error), done func() error) error) error {
	f, err := os.Open(archive)
	if err != nil {
		return &fault.Error{Kind: fault.NotFound, Where: archive, Message: fmt.Sprintf("%s cannot be read: name the archive that export wrote.", archive), Err: err}
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
	return read(lines, func(k store.Kept) ([]byte, error) { return takeOut(files, k) }, func() error {
		delete(files, archiveLines)
		for _, name := range slices.Sorted(maps.Keys(files)) {
			return badArchive("%s is of no photograph and no paper", name)
		}
		return nil
	})
}

// takeOut reads a picture or the file of a paper, whose name has to say what is in it.
func takeOut(files map[string]*zip.File, k store.Kept) ([]byte, error) {
	names := []string{archiveName(k.Number(), nil)}
	if k.Paper > 0 {
		stem := archivePapers + k.Name()
		names = []string{stem + ".pdf", stem + ".jpg", stem + ".png", stem + lostExt}
	}
	for _, name := range names {
		entry := files[name]
		if entry == nil {
			continue
		}
		delete(files, name)
		data, err := readEntryOf(entry)
		if err == nil && archiveName(k.Number(), data) != name {
			err = badArchive("%s is not what its name says", name)
		}
		return data, err
	}
	return nil, badArchive("%s is missing", names[0])
}

func badArchive(format string, args ...any) error {
	return fault.New(fault.Invalid, "archive", "The archive is damaged or none of Stowright's (%v): get it again from where it was made, nothing was brought in.", fmt.Errorf(format, args...))
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
		most := mostBytes(f.Name)
		switch {
		case most == 0 && f.Name != archiveLines:
			return nil, badArchive("it holds %s", phrase.Quote(f.Name))
		case files[f.Name] != nil:
			return nil, badArchive("it holds %s twice", f.Name)
		case f.Method != zip.Store || f.CompressedSize64 != f.UncompressedSize64:
			return nil, badArchive("%s is compressed", f.Name)
		case most > 0 && f.UncompressedSize64 > most:
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

// mostBytes is how many bytes a picture or the file of a paper may have by its name; 0 for
// any other name.
func mostBytes(name string) uint64 {
	var number uint64
	if _, err := fmt.Sscanf(name, archivePhotos+"P-%d"+photoExt, &number); err == nil {
		if number > 0 && number <= store.MaxPhotos && name == archiveName(number, nil) {
			return store.MaxPhotoBytes
		}
		return 0
	}
	if _, err := fmt.Sscanf(name, archivePapers+"PA-%d.", &number); err != nil || number < 1 || number > store.MaxPapers {
		return 0
	}
	ext, ok := strings.CutPrefix(name, archivePapers+store.PaperName(number))
	if !ok || !slices.Contains([]string{".pdf", ".jpg", ".png", lostExt}, ext) {
		return 0
	}
	return store.MaxPaperBytes
}

func readEntryOf(f *zip.File) ([]byte, error) {
	r, err := f.Open()
	if err != nil {
		return nil, badArchive("%s: %w", f.Name, err)
	}
	picture, err := io.ReadAll(io.LimitReader(r, store.MaxPaperBytes+1))
	if err := errors.Join(err, r.Close()); err != nil {
		return nil, badArchive("%s: %w", f.Name, err)
	}
	return picture, nil
}
