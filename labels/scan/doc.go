// Package scan turns a picture into the codes that are in it: what each one
// says, where its four corners are, and how that is known.
//
// It is built for small labels in poor pictures: a wall of drawers in one webcam
// frame, tilted, in uneven light. It has a decoder of its own for our tags (QR code
// version 1, error correction level H); QR codes of any other kind are read by a
// general library, and marked as such.
//
// A tag is read in these steps: the picture becomes grey levels in an image pyramid;
// finder patterns are detected and grouped by three; a homography (grid) is fitted to
// each symbol by least squares; the modules are sampled as soft values; and those are
// decoded by ordered statistics. Tags that cannot be decoded are compared with the
// issued ones.
//
// Guarantees: a text whose How is Read was decoded from the symbol itself and, for a
// tag of ours, has the right check character; no picture makes the package panic or
// run much longer than the budget; nothing is shared between Readers but constant
// tables. The package does not know what a tag refers to.
package scan
