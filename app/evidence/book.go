package evidence

import (
	"fmt"
	"strings"

	"stowright/store"
)

// Book is what is known of one thing, to be read from the beginning to the end.
type Book struct {
	Title    string       `json:"title"`
	Day      store.Date   `json:"day"`  // as of which it was gathered: the shop's
	Head     store.Anchor `json:"head"` // the newest entry then, with its hash
	Under    []string     `json:"under"`
	Chapters []Chapter    `json:"chapters"`
}

// Chapter is a part of a book that begins a page.
type Chapter struct {
	Title    string    `json:"title"`
	Sections []Section `json:"sections"`
}

// Section is a part of a chapter: sentences, then a table, then photographs. One without any
// of them is left out.
type Section struct {
	Heading string        `json:"heading"`
	Texts   []string      `json:"texts,omitempty"`
	Columns []Column      `json:"-"`
	Titles  []string      `json:"columns,omitempty"` // of Columns
	Rows    [][]string    `json:"rows,omitempty"`
	Photos  []store.Photo `json:"photographs,omitempty"`
}

// Column is a column of a table.
type Column struct {
	Title string
	Width float64 // mm on paper; 0: what the others leave
	Mono  bool    // numbers and part numbers
	Sign  bool    // room for initials, on paper alone
}

// empty reports whether nothing is in a section.
func (s Section) empty() bool { return len(s.Texts) == 0 && len(s.Rows) == 0 && len(s.Photos) == 0 }

// add appends a section that says something.
func (c *Chapter) add(s Section) {
	if s.empty() {
		return
	}
	for _, col := range s.Columns {
		if !col.Sign {
			s.Titles = append(s.Titles, col.Title)
		}
	}
	c.Sections = append(c.Sections, s)
}

// Photos are the photographs of a book, in its order.
func (b Book) Photos() []store.Photo {
	var list []store.Photo
	for _, c := range b.Chapters {
		for _, s := range c.Sections {
			list = append(list, s.Photos...)
		}
	}
	return list
}

// Subject is what a book is about. Exactly one is named, as people write it; Of goes with Lot.
type Subject struct {
	SubAssembly string // code
	Item        string // designation
	Lot         string // "L-17", or what is printed on it
	Of          string // the item of the lot, where several have that printed
	Component   string // "CO-1", or its serial number
	Aircraft    string // name
}

// asOf is the state of the shop that a book is of, in words.
func (b Book) asOf() string {
	return fmt.Sprintf("As of %s, entry %d of the journal.", b.Day, b.Head.Entry)
}

// Text is the book as plain text.
func (b Book) Text() string {
	var t strings.Builder
	t.WriteString(b.Title + "\n")
	for _, u := range b.Under {
		t.WriteString(u + "\n")
	}
	for _, c := range b.Chapters {
		fmt.Fprintf(&t, "\n%s\n", c.Title)
		for _, s := range c.Sections {
			t.WriteString(s.text())
		}
	}
	t.WriteString("\n" + b.asOf() + "\n")
	return t.String()
}

func (s Section) text() string {
	var t strings.Builder
	fmt.Fprintf(&t, "  %s\n", s.Heading)
	for _, line := range s.Texts {
		fmt.Fprintf(&t, "    %s\n", line)
	}
	for _, row := range s.Rows {
		var cells []string
		for _, cell := range row {
			if cell != "" {
				cells = append(cells, cell)
			}
		}
		fmt.Fprintf(&t, "    %s\n", strings.Join(cells, " | "))
	}
	for _, p := range s.Photos {
		for _, line := range photoLines(p) {
			fmt.Fprintf(&t, "    %s\n", line)
		}
	}
	return t.String()
}

// photoLines are what is written under a photograph.
func photoLines(p store.Photo) []string {
	words := fmt.Sprintf("%s, brought in on %s by %s", p.Name(), moment(p.At), p.Hand)
	if p.Caption != "" {
		words = p.Name() + ": " + p.Caption + ", brought in on " + moment(p.At) + " by " + p.Hand
	}
	return []string{words, "SHA-256 " + p.SHA256}
}

// exactly refuses a subject that does not name one thing.
func (s Subject) exactly() error {
	n := 0
	for _, name := range []string{s.SubAssembly, s.Item, s.Lot, s.Component, s.Aircraft} {
		if strings.TrimSpace(name) != "" {
			n++
		}
	}
	if n != 1 {
		return invalid("Say of what the evidence is: a sub-assembly, an item, a lot, a component or an aircraft, and only one of them.")
	}
	return nil
}

// fileName is what the file of the evidence of something is called until something else is
// typed: "evidence-sa-20.pdf".
func fileName(name string) string {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool {
		return (r < 'a' || r > 'z') && (r < '0' || r > '9')
	})
	return strings.Join(append([]string{"evidence"}, words...), "-") + ".pdf"
}
