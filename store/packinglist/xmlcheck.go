package packinglist

import (
	"encoding/xml"
	"errors"
	"io"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"
)

// Bounds inside an XLSX workbook, against one that multiplies a long string over
// a long row.
const (
	maxFilled = 1024   // cells with a value in one row
	maxString = 64_000 // bytes of one shared string; spreadsheets allow 32,767 characters
)

// partCount is what must agree between the parts of a workbook.
type partCount struct {
	strings int // strings that the part defines
	needed  int // strings there must be for the cells of the part that point to one
}

// checkXML parses to the end and holds a worksheet and a table of strings to
// what ISO/IEC 29500-1, 18.3 and 18.4 say of them. The library that reads the
// workbook takes the end of a broken part for the end of the sheet, mixes rows
// that are out of order, and takes a cell that points outside the table of
// strings for an empty one: each would lose lines unseen.
func checkXML(r io.Reader) (partCount, error) {
	c := &xmlChecker{}
	dec := xml.NewDecoder(r)
	dec.CharsetReader = func(string, io.Reader) (io.Reader, error) { return nil, errors.New("not UTF-8") }
	for {
		token, err := dec.Token()
		if err == io.EOF {
			return c.count, nil
		}
		if err == nil {
			err = c.token(token)
		}
		if err != nil {
			return c.count, err
		}
	}
}

// xmlChecker is the state of checkXML between two tokens.
type xmlChecker struct {
	count       partCount
	root        string
	row, column int  // of the last row and cell
	filled      int  // cells with a value in the row
	shared      bool // inside a cell that points to a string
	value       bool // inside its value
	inString    bool // inside a shared string
	length      int  // bytes of that so far
}

func (c *xmlChecker) token(token xml.Token) error {
	switch el := token.(type) {
	case xml.StartElement:
		if c.root == "" {
			c.root = el.Name.Local
		}
		switch c.root {
		case "worksheet":
			return c.sheetElement(el)
		case "sst":
			if el.Name.Local == "si" {
				c.count.strings++
				c.inString, c.length = true, 0
			}
		}
	case xml.EndElement:
		c.value = false
		c.shared = c.shared && el.Name.Local != "c"
		c.inString = c.inString && el.Name.Local != "si"
	case xml.CharData:
		return c.text(el)
	case xml.Directive:
		return errors.New("a document type in a workbook")
	}
	return nil
}

// sheetElement follows rows and cells, which must ascend. A number left out is
// the next one.
func (c *xmlChecker) sheetElement(el xml.StartElement) error {
	switch el.Name.Local {
	case "row":
		next := c.row + 1
		if r := attr(el, "r"); r != "" {
			n, err := strconv.Atoi(r)
			if err != nil || n < next {
				return errors.New("a row out of order")
			}
			next = n
		}
		c.row, c.column, c.filled = next, 0, 0
	case "c":
		next := c.column + 1
		if r := attr(el, "r"); r != "" {
			column, row, err := excelize.CellNameToCoordinates(r)
			if err != nil || row != c.row || column < next {
				return errors.New("a cell out of order")
			}
			next = column
		}
		c.column = next
		c.shared = attr(el, "t") == "s"
	case "v", "is":
		c.value = c.shared
		if c.filled++; c.filled > maxFilled {
			return errors.New("a row without end")
		}
	}
	return nil
}

// text follows pointers to strings and the length of strings.
func (c *xmlChecker) text(data xml.CharData) error {
	if c.inString {
		if c.length += len(data); c.length > maxString {
			return errors.New("a string without end")
		}
	}
	if !c.value {
		return nil
	}
	n, err := strconv.Atoi(strings.TrimSpace(string(data)))
	if err != nil || n < 0 {
		return errors.New("a cell that points to no string")
	}
	c.count.needed = max(c.count.needed, n+1)
	return nil
}

// attr is the value of the attribute with that local name, empty for none.
func attr(el xml.StartElement, local string) string {
	for _, a := range el.Attr {
		if a.Name.Local == local {
			return a.Value
		}
	}
	return ""
}
