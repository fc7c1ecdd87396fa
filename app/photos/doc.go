// Package photos makes of any picture what a shop keeps as a photograph: upright, at
// most 1,600 pixels long, a JPEG file of its own making, so that nothing the camera
// noted (such as where it was) is kept. It reads the pictures of a shop only when they
// are to be seen, small or large, and writes them out as files.
package photos
