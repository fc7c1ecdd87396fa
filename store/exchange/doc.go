// Package exchange writes a whole shop for use elsewhere, and brings it back.
//
// Export writes every entry and every record as lines of JSON, ExportArchive those with
// the pictures of photographs as a ZIP file; EXPORT.md and Schema describe them. Import
// and ImportArchive make a shop file of either, in which nothing is trusted: each entry is
// done again, and the result must give the same export byte for byte before there is a file.
// ExportCSV writes tables for people, which are not read back.
//
// What the tables of a shop are is asked of package store, which knows nothing of this one.
package exchange
