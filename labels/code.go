package labels

import (
	"fmt"
	"math"
	"strings"

	"github.com/skip2/go-qrcode"
)

// What a code is made of. Version 1 has 21 modules a side and at level H holds
// ten alphanumeric characters (ISO/IEC 18004, tables 1 and 7): the largest
// modules and the most damage repaired on the smallest label.
const (
	codeModules = 21
	codeLevel   = qrcode.Highest
	maxTag      = 10

	// QuietModules is the white border that a reader needs (ISO/IEC 18004, 9.1).
	QuietModules = 4
	// MinModule is the smallest module in millimetres: four dots of a printer
	// of 300 dots an inch, a printer maker's advice.
	MinModule = 0.33
)

const tagAlphabet = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"

// checkTag returns why a tag does not fit its code, or "".
func checkTag(tag string) string {
	for _, r := range tag {
		if !strings.ContainsRune(tagAlphabet, r) {
			return fmt.Sprintf("a code cannot hold %q; use capital letters and digits", r)
		}
	}
	if len(tag) > maxTag {
		return fmt.Sprintf("%d characters do not fit the code; use at most %d", len(tag), maxTag)
	}
	return ""
}

// runsOf returns the dark modules of the code of a tag that checkTag accepts.
func runsOf(tag string) ([]Run, error) {
	qr, err := qrcode.NewWithForcedVersion(tag, 1, codeLevel)
	if err != nil {
		return nil, fmt.Errorf("code for tag %q: %w", tag, err)
	}
	runs, side := modulesOf(qr)
	if side != codeModules {
		return nil, fmt.Errorf("code for tag %q has %d modules a side, want %d", tag, side, codeModules)
	}
	return runs, nil
}

// longestOpens is how long a text may be that opens something: a code of a paper has
// room, and 77 characters fit version 4 at level M with modules that a camera resolves.
const longestOpens = 77

// Opens reports whether the code of a paper can hold a text; see [Paper.Opens].
func Opens(text string) bool {
	_, _, err := opensOf(text)
	return err == nil
}

// opensOf is the code of a text that opens something, at the level that is usual on paper
// (M), and how many modules it has a side.
func opensOf(text string) (runs []Run, side int, err error) {
	for _, r := range text {
		if !strings.ContainsRune(tagAlphabet, r) {
			return nil, 0, fmt.Errorf("a code cannot hold %q; use capital letters and digits", r)
		}
	}
	return textCode(text, longestOpens)
}

// textCode is the code of a text of so many characters at most.
func textCode(text string, longest int) (runs []Run, side int, err error) {
	if len(text) > longest {
		return nil, 0, fmt.Errorf("%d characters do not fit the code; use at most %d", len(text), longest)
	}
	qr, err := qrcode.New(text, qrcode.Medium)
	if err != nil {
		return nil, 0, fmt.Errorf("code for %q: %w", text, err)
	}
	runs, side = modulesOf(qr)
	return runs, side, nil
}

// modulesOf are the dark modules of a code without its border, and how many modules it
// has a side.
func modulesOf(qr *qrcode.QRCode) (runs []Run, side int) {
	// Before the first call of Bitmap: afterwards go-qrcode ignores it.
	qr.DisableBorder = true
	bitmap := qr.Bitmap()
	runs = make([]Run, 0, 140)
	for y, row := range bitmap {
		for x := 0; x < len(row); x++ {
			if !row[x] {
				continue
			}
			start := x
			for x < len(row) && row[x] {
				x++
			}
			runs = append(runs, Run{uint8(y), uint8(start), uint8(x - start)})
		}
	}
	return runs, len(bitmap)
}

// moduleFor is the largest module of whole printer dots that is at most limit
// millimetres, or 0 when that is below MinModule.
func moduleFor(limit, dot float64) float64 {
	m := math.Floor(limit/dot+1e-9) * dot
	if m < MinModule {
		return 0
	}
	return m
}
