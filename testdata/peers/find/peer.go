package main

import (
	"cmp"
	"database/sql"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	_ "github.com/mattn/go-sqlite3" // the driver, with FTS5 by build tag

	"stowright/store/search"
	"stowright/store/search/searchtest"
)

// peer is an SQLite database in memory: designations and old numbers without
// their signs in a sorted table, and them and all words in a trigram index, in
// the order in which the index ranks things.
type peer struct {
	db                                          *sql.DB
	starting, equal, scan, matching, candidates *sql.Stmt
}

const schema = `
PRAGMA journal_mode = OFF;
PRAGMA synchronous = OFF;
CREATE TABLE thing (id INTEGER PRIMARY KEY, codes TEXT, words TEXT);
CREATE TABLE code (code TEXT, thing INTEGER, PRIMARY KEY (code, thing)) WITHOUT ROWID;
CREATE VIRTUAL TABLE fts USING fts5(codes, words, content='', tokenize='trigram');
`

func openPeer(shop *searchtest.Shop) (*peer, error) {
	db, err := sql.Open("sqlite3", ":memory:")
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(1)
	p := &peer{db: db}
	cpu, start := processor(), time.Now()
	if err := p.fill(shop); err != nil {
		return nil, fmt.Errorf("fill SQLite: %w", err)
	}
	took, worked := time.Since(start), processor()-cpu
	var pages, size int64
	if err := errors.Join(db.QueryRow("PRAGMA page_count").Scan(&pages), db.QueryRow("PRAGMA page_size").Scan(&size)); err != nil {
		return nil, err
	}
	fmt.Printf("SQLite filled in %.2f s (%.2f s of processor), %.0f MB\n", took.Seconds(), worked.Seconds(), float64(pages*size)/1e6)
	return p, p.prepare()
}

func (p *peer) fill(shop *searchtest.Shop) error {
	docs := slices.Clone(shop.Docs)
	slices.SortStableFunc(docs, func(a, b search.Doc) int {
		if a.InShop != b.InShop {
			if a.InShop {
				return -1
			}
			return 1
		}
		return cmp.Or(len(a.Name)-len(b.Name), strings.Compare(a.Name, b.Name))
	})
	if _, err := p.db.Exec(schema); err != nil {
		return err
	}
	tx, err := p.db.Begin()
	if err != nil {
		return err
	}
	var inserts [3]*sql.Stmt
	for i, text := range []string{"INSERT INTO thing VALUES (?, ?, ?)", "INSERT OR IGNORE INTO code VALUES (?, ?)", "INSERT INTO fts (rowid, codes, words) VALUES (?, ?, ?)"} {
		if inserts[i], err = tx.Prepare(text); err != nil {
			return err
		}
	}
	for id, d := range docs {
		codes := make([]string, 0, 2)
		for _, name := range append([]string{d.Name}, d.Aliases...) {
			codes = append(codes, fold(name))
			if _, err := inserts[1].Exec(fold(name), id); err != nil {
				return err
			}
		}
		for _, i := range []int{0, 2} {
			if _, err := inserts[i].Exec(id, strings.Join(codes, " "), words(d)); err != nil {
				return err
			}
		}
	}
	return tx.Commit()
}

// words are the description, the places and the dimensions as fractions.
func words(d search.Doc) string {
	all := append([]string{strings.ToLower(d.Words)}, d.Places...)
	for _, dim := range d.Dims {
		if f, ok := dim.Length.Fraction(); ok {
			all = append(all, f)
		}
	}
	return strings.Join(all, " ")
}

func (p *peer) prepare() error {
	for stmt, text := range map[**sql.Stmt]string{
		&p.starting:   "SELECT thing FROM code WHERE code >= ? AND code < ? LIMIT 21",
		&p.equal:      "SELECT thing FROM code WHERE code = ? LIMIT 21",
		&p.scan:       "SELECT thing FROM code WHERE code LIKE ? LIMIT 21",
		&p.matching:   "SELECT rowid FROM fts WHERE fts MATCH ? LIMIT 21",
		&p.candidates: "SELECT fts.rowid, thing.codes, thing.words FROM fts JOIN thing ON thing.id = fts.rowid WHERE fts MATCH ?",
	} {
		var err error
		if *stmt, err = p.db.Prepare(text); err != nil {
			return err
		}
	}
	return nil
}

func (p *peer) close() { _ = p.db.Close() }

// ask asks one question of a kind in the quickest way that answers it.
func (p *peer) ask(kind searchtest.Kind, q string) error {
	code := fold(q)
	switch kind {
	case searchtest.Prefix, searchtest.Short:
		n, err := ids(p.starting, code, code+"\x7f")
		if err == nil && n <= answers && len(code) >= 3 {
			_, err = ids(p.matching, `codes: "`+code+`"`)
		}
		return err
	case searchtest.Substring:
		if len(code) < 3 {
			_, err := ids(p.scan, "%"+code+"%")
			return err
		}
		_, err := ids(p.matching, `codes: "`+code+`"`)
		return err
	case searchtest.OldNumber:
		n, err := ids(p.equal, code)
		if err == nil && n <= answers {
			_, err = ids(p.matching, `codes: "`+code+`"`)
		}
		return err
	case searchtest.Word, searchtest.Drawer:
		_, err := ids(p.matching, `words: "`+q+`"`)
		return err
	case searchtest.Words, searchtest.Mixed, searchtest.Apart:
		_, err := ids(p.matching, `"`+strings.Join(strings.Fields(q), `" AND "`)+`"`)
		return err
	case searchtest.WordTypo:
		return p.nearly("words", strings.ToLower(q))
	}
	n, err := ids(p.matching, `codes: "`+code+`"`)
	if err != nil || n > 0 {
		return err
	}
	return p.nearly("codes", code)
}

// ids reads all rows of a statement.
func ids(stmt *sql.Stmt, args ...any) (n int, err error) {
	rows, err := stmt.Query(args...)
	if err != nil {
		return 0, err
	}
	defer rows.Close()
	for rows.Next() {
		var id int
		if err := rows.Scan(&id); err != nil {
			return 0, err
		}
		n++
	}
	return n, rows.Err()
}

// nearly looks for text with one typing error: one of its halves must be
// right. Where a half is too short for trigrams any trigram of the text will
// do, with which some things are missed.
func (p *peer) nearly(column, text string) error {
	var parts []string
	if half := len(text) / 2; half >= 3 {
		parts = []string{text[:half], text[half:]}
	} else {
		for i := 0; i+3 <= len(text); i++ {
			parts = append(parts, text[i:i+3])
		}
	}
	if len(parts) == 0 {
		return nil
	}
	rows, err := p.candidates.Query(column + `: ("` + strings.Join(parts, `" OR "`) + `")`)
	if err != nil {
		return err
	}
	defer rows.Close()
	for found := 0; found <= answers && rows.Next(); {
		var id int
		var codes, words sql.RawBytes
		if err := rows.Scan(&id, &codes, &words); err != nil {
			return err
		}
		held := codes
		if column == "words" {
			held = words
		}
		if oneOffInside(text, string(held)) {
			found++
		}
	}
	return rows.Err()
}

// oneOffInside says whether held has, within it, text with at most one error.
func oneOffInside(text, held string) bool {
	for from := range len(held) {
		same := 0
		for same < len(text) && from+same < len(held) && text[same] == held[from+same] {
			same++
		}
		if same >= len(text)-1 {
			return true
		}
		here, rest := held[from+same:], text[same:]
		switch {
		case len(here) > 0 && strings.HasPrefix(here[1:], rest), // one too few typed
			strings.HasPrefix(here, rest[1:]),                                                                  // one too many
			len(here) > 0 && strings.HasPrefix(here[1:], rest[1:]),                                             // a wrong one
			len(here) > 1 && here[0] == rest[1] && here[1] == rest[0] && strings.HasPrefix(here[2:], rest[2:]): // two exchanged
			return true
		}
	}
	return false
}

// fold brings a designation to small letters, digits and points between digits.
func fold(s string) string {
	s = strings.ToLower(s)
	digit := func(i int) bool { return i >= 0 && i < len(s) && s[i] >= '0' && s[i] <= '9' }
	var b strings.Builder
	for i := range len(s) {
		if s[i] >= 'a' && s[i] <= 'z' || digit(i) || s[i] == '.' && digit(i-1) && digit(i+1) {
			b.WriteByte(s[i])
		}
	}
	return b.String()
}
