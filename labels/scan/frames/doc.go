// Package frames makes the pictures that the reader is measured on: printed
// labels as a webcam sees them, with the true texts and corners, from fixed
// seeds. It is for tests and benchmarks only.
//
// A frame is made in five steps. Labels (a version 1 level H symbol by go-qrcode
// with its four modules of quiet zone, the text under it, a border, on paper)
// are laid on planes in space and projected by a pinhole camera of 65 degrees.
// Each pixel averages several rays. Then come the lens (defocus, motion), the
// light (slope, glare, contrast), the sensor (noise) and JPEG.
//
// Single frames hold one label each and cycle through the buckets of Singles
// and the sizes of PixelsPerModule. Walls hold 12 to 40 labels of a cabinet.
// A film shows a cabinet from a camera that moves, and labels that are changed.
// Empty frames hold no tag: shelves of text, finder-like squares, noise, and
// codes of other makers. Sheets are pages of our own PDF, rasterized by a tool
// that the caller runs, and held before the camera.
package frames
