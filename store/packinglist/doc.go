// Package packinglist reads the packing list that comes with a kit into lines:
// text with commas, semicolons or tabs between its columns, XLSX and ODS workbooks,
// and PDFs that have text.
//
// It works in three steps, so that a person can look at each. [Open] takes the
// bytes of a file apart into a [Book] of sheets with plain cells. [Book.Read] makes
// of it what can be made with the [Choices] of a person: a [Reading] of lines, rows
// left out with a reason, bad rows, and questions. [Reading.List] is the [List],
// once nothing of that is open.
//
// Nothing is guessed where two readings are possible: that is a [Question], and one
// answer settles it for every place of the file. While it is open, and while a row
// is bad, there is no List; every [Problem] is one sentence that says what is wrong,
// where, and what to do. Every input is bounded by the limits below. The package
// keeps no state, opens no window and writes nothing; all its functions may be used
// from several goroutines at once.
//
// It does not read scans, pictures, or the XLS format of before 2007.
package packinglist

// Limits on what is read. A list beyond them is refused, never cut.
const (
	MaxBytes    = 8 << 20  // of the file
	MaxUnpacked = 48 << 20 // bytes of a workbook once unpacked
	MaxText     = 16 << 20 // bytes in all cells of a sheet
	MaxRows     = 20_000   // rows of a sheet, headings and titles included
	MaxColumns  = 64       // columns of a sheet
	MaxCell     = 4096     // bytes of one cell
	MaxProblems = 50       // problems that Read lists; further ones are counted
)
