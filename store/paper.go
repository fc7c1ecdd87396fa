package store

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"slices"
	"strings"

	"stowright/store/disk"
	"stowright/store/phrase"
)

// PaperKind says what sort of paper it is.
type PaperKind string

// The kinds of paper.
const (
	PackingListPaper PaperKind = "packing list"
	InvoicePaper     PaperKind = "invoice"
	ConformancePaper PaperKind = "conformance statement"
	ReleasePaper     PaperKind = "release form" // 8130-3 and its like
	TestPaper        PaperKind = "test report"
	LetterPaper      PaperKind = "letter"
	BulletinPaper    PaperKind = "bulletin"
	DrawingPaper     PaperKind = "drawing"
	OtherPaper       PaperKind = "other"
)

// PaperKinds are all kinds of paper.
func PaperKinds() []PaperKind {
	return []PaperKind{PackingListPaper, InvoicePaper, ConformancePaper, ReleasePaper, TestPaper, LetterPaper, BulletinPaper, DrawingPaper, OtherPaper}
}

// Paper is what is known of a paper that belongs to lots, decisions or alerts: which it
// is, and where it is kept. It says what is written on it, not that it is right.
type Paper struct {
	Number uint64     `json:"number"` // for life: 3 is PA-3
	Kind   PaperKind  `json:"kind"`
	Title  string     `json:"title,omitempty"`  // its own number or name
	Issuer string     `json:"issuer,omitempty"` // who issued it
	Date   Date       `json:"date,omitzero"`    // its own
	Kept   string     `json:"kept,omitempty"`   // on paper: "binder 2"
	File   *PaperFile `json:"file,omitempty"`   // nil: it is on paper only
	Note   string     `json:"note,omitempty"`
	Undone bool       `json:"undone,omitempty"` // its making was undone
}

// PaperFile tells which file a paper is. Its bytes are kept beside the record, under the
// number of the paper that brought them in first; the same file is kept once.
type PaperFile struct {
	Name   string `json:"name"` // for people; never used as a path
	Bytes  int64  `json:"bytes"`
	SHA256 string `json:"sha256"`       // of the file, in hex
	In     uint64 `json:"in,omitempty"` // number of that paper; 0: an older program kept the checksum alone
}

const (
	tablePapers = "papers"
	paperLetter = "PA"
)

// PaperName is what a paper is called: "PA-3".
func PaperName(number uint64) string { return numberName(paperLetter, number) }

// PaperNumber reads a name such as PA-3, in any case, or the number alone.
func PaperNumber(name string) (uint64, bool) { return numbered(paperLetter, name) }

// Name is what people call it: "PA-3".
func (p Paper) Name() string { return PaperName(p.Number) }

func (p Paper) key() string { return numberKey(p.Number) }

// Words say which paper it is: "release form 8130-3/77 of Bolt works, 14 March 2026 (binder 2)".
func (p Paper) Words() string {
	words := strings.TrimSpace(string(p.Kind) + " " + p.Title)
	if p.Issuer != "" {
		words += " of " + p.Issuer
	}
	if !p.Date.IsZero() {
		words += ", " + p.Date.String()
	}
	if p.Kept != "" {
		words += " (" + p.Kept + ")"
	}
	return words
}

func noPaper(name string) error {
	return fail(NotFound, name, "There is no paper %s in this shop: add it first, or see how its number is written.", phrase.Quote(name))
}

var paperTable = table{
	name: tablePapers, one: "paper", since: 6, keys: named, by: replacing,
	forms:   []form{formOf[Paper]("paper")},
	valid:   filed(Paper.key),
	refers:  namingNothing,
	indexes: []index{},
	touches: touchingNothing,
	differs: others,
	unmade:  marked(func(p *Paper) { p.Undone = true }), // its number may be on it already
	sheet:   ownSheet("papers.csv", (*Reader).paperRows),
}

// AddPaper records a paper; its number is the shop's to give.
func (s *Shop) AddPaper(p Paper) (Paper, Entry, error) {
	e, err := s.commit(VerbRecord, func(w *writer) (string, error) {
		var err error
		if p, err = cleanPaper(p); err != nil {
			return "", err
		}
		if p.Number, err = w.nextNumber(tablePapers); err != nil {
			return "", err
		}
		return fmt.Sprintf("paper %s: %s", p.Name(), p.Words()), w.put(tablePapers, p.key(), p)
	})
	return p, e, err
}

// AddPaperFile records a paper with its file, a PDF, JPEG or PNG (PaperForm) of at most
// MaxPaperBytes, and keeps its bytes. A file that is there already is kept once.
func (s *Shop) AddPaperFile(p Paper, name string, data []byte) (Paper, Entry, error) {
	e, err := s.commit(VerbRecord, func(w *writer) (string, error) {
		if _, err := PaperForm(data); err != nil {
			return "", err
		}
		sum := sha256.Sum256(data)
		p.File = &PaperFile{Name: name, Bytes: int64(len(data)), SHA256: hex.EncodeToString(sum[:])}
		var err error
		if p, err = cleanPaper(p); err != nil {
			return "", err
		}
		if p.Number, err = w.nextNumber(tablePapers); err != nil {
			return "", err
		}
		if p.File.In, err = fileKept(w.ledger.tx, p.File.SHA256); err != nil {
			return "", err
		}
		if p.File.In == 0 {
			p.File.In = p.Number
			if err := w.ledger.tx.PutBlob(paperBlobs+p.Number, data); err != nil {
				return "", err
			}
		}
		return fmt.Sprintf("paper %s: %s, %s", p.Name(), p.Words(), p.File.Name), w.put(tablePapers, p.key(), p)
	})
	return p, e, err
}

// fileKept is the paper under whose number a file is kept; 0 where it is not. One whose making was
// undone still has its file, unless that was lost in damage.
func fileKept(tx *disk.Tx, sum string) (in uint64, err error) {
	err = scanAll(tx, tablePapers, "", func(_ string, p Paper) error {
		if p.File != nil && p.File.In == p.Number && p.File.SHA256 == sum {
			data, err := tx.Blob(paperBlobs + p.Number)
			if err != nil {
				return err
			}
			if len(data) > 0 {
				in = p.Number
				return disk.ErrStop
			}
		}
		return nil
	})
	if errors.Is(err, disk.ErrStop) {
		err = nil
	}
	return in, err
}

// PaperBytes is the file of a paper, proven to be the one that was brought in.
func (r *Reader) PaperBytes(number uint64) (data []byte, err error) {
	err = r.view(func(tx *disk.Tx) error {
		p, found, err := lookup[Paper](fileLedger{tx}, tablePapers, numberKey(number))
		switch {
		case err != nil:
			return err
		case !found || p.Undone:
			return noPaper(PaperName(number))
		case p.File == nil:
			return fail(NotFound, p.Name(), "%s is on paper only (%s): it has no file in the shop.", p.Name(), p.Kept)
		case p.File.In == 0:
			return fail(NotFound, p.Name(), "Of %s the shop has the checksum alone, an older program did not keep files: add the file again.", p.Name())
		}
		k := Kept{Paper: p.File.In, File: *p.File}
		if data, err = tx.Blob(k.Number()); err == nil && data != nil {
			err = k.Proves(data)
		} else if err == nil {
			err = fmt.Errorf("%s is missing", k.What())
		}
		switch {
		case err != nil:
			return &Error{Kind: Corrupt, Where: p.Name(), Message: fmt.Sprintf("The file of paper %s is damaged: keep the shop file, and open a copy made earlier.", p.Name()), Err: err}
		case len(data) == 0:
			return fail(NotFound, p.Name(), "The file of paper %s was lost when the shop was restored after damage: look in an older copy.", p.Name())
		}
		return nil
	})
	return data, err
}

func cleanPaper(p Paper) (Paper, error) {
	if p.Undone = false; !slices.Contains(PaperKinds(), p.Kind) {
		return p, fail(Invalid, "paper", "%s is no kind of paper: say packing list, invoice, conformance statement, release form, test report, letter, bulletin, drawing or other.", phrase.Quote(string(p.Kind)))
	}
	file := ""
	if p.File != nil {
		copied := *p.File
		p.File, file = &copied, copied.Name
		if sum, err := hex.DecodeString(copied.SHA256); err != nil || len(sum) != 32 || copied.Bytes < 1 || strings.ToLower(copied.SHA256) != copied.SHA256 {
			return p, fail(Invalid, file, "The checksum of the file of the paper is none: choose the file again.")
		}
	}
	for _, field := range []struct {
		what string
		text *string
	}{
		{"The number of the paper", &p.Title},
		{"Who issued the paper", &p.Issuer},
		{"Where the paper is kept", &p.Kept},
		{"The name of the file", &file},
		{"The note", &p.Note},
	} {
		var err error
		if *field.text, err = cleanOptional(field.what, *field.text); err != nil {
			return p, err
		}
	}
	if p.File != nil {
		p.File.Name = file
	}
	if p.File == nil && p.Kept == "" {
		return p, fail(Invalid, "paper", "Say where the paper is: a file, or on paper, in which binder.")
	}
	if !p.Date.IsZero() && !p.Date.Valid() {
		return p, fail(Invalid, "paper", "The date of the paper is no day: write it like 2026-03-14.")
	}
	return p, nil
}

// papers are papers of the shop as they are called, each once; nil for none.
func (w *writer) papers(names []string) (called []string, err error) {
	for _, name := range names {
		number, _ := PaperNumber(name)
		p, found, err := lookup[Paper](w.ledger, tablePapers, numberKey(number))
		if err != nil {
			return nil, err
		}
		if !found || p.Undone {
			return nil, noPaper(name)
		}
		if !slices.Contains(called, p.Name()) {
			called = append(called, p.Name())
		}
	}
	return called, nil
}

// Papers are all papers, by number.
func (r *Reader) Papers() ([]Paper, error) {
	list, err := all[Paper](r, tablePapers, "")
	return slices.DeleteFunc(list, func(p Paper) bool { return p.Undone }), err
}

// Paper is the paper of a number.
func (r *Reader) Paper(number uint64) (Paper, error) {
	p, err := one[Paper](r, tablePapers, numberKey(number), "paper", PaperName(number))
	if err == nil && p.Undone {
		err = noPaper(PaperName(number))
	}
	return p, err
}

// NamesPaper are the lots and decisions that name a paper, as they are called.
func (r *Reader) NamesPaper(number uint64) (names []string, err error) {
	name := PaperName(number)
	err = r.view(func(tx *disk.Tx) error {
		err := scanAll(tx, tableLots, "", func(_ string, l Lot) error {
			if !l.Undone && slices.Contains(l.Facts.Papers, name) {
				names = append(names, l.Name()+" of "+l.Item)
			}
			return nil
		})
		if err != nil {
			return err
		}
		return scanAll(tx, tableDecisions, "", func(_ string, d Decision) error {
			if !d.Undone && slices.Contains(d.Papers, name) {
				names = append(names, d.Name())
			}
			return nil
		})
	})
	return names, err
}

func (r *Reader) paperRows() ([][]string, error) {
	papers, err := r.Papers()
	rows := [][]string{{"paper", "kind", "number", "issued by", "date", "kept", "file", "sha-256", "note"}}
	for _, p := range papers {
		var file, sum string
		if p.File != nil {
			file, sum = p.File.Name, p.File.SHA256
		}
		rows = append(rows, []string{p.Name(), string(p.Kind), p.Title, p.Issuer, day(p.Date), p.Kept, file, sum, p.Note})
	}
	return rows, err
}
