// Package photos is the page of the photographs of one thing: a line of a packing
// list, a place or an item. It takes them with a camera or brings files in, shows them
// small and large, describes them and takes them away.
//
// It makes of any picture what a shop keeps: upright, at most 1,600 pixels long, a JPEG
// file of its own making, so that nothing the camera noted (such as where it was) is
// kept. Pictures are read from the shop only when they are to be seen.
package photos
