// Package camera is where pictures come from: a camera on this computer, a
// stream over the network (a phone on a stand), a folder of pictures, a folder
// that pictures arrive in.
//
// It guarantees that every Source is bounded in what it holds, ends when its
// context ends, and leaves nothing running after Close. It does not look at
// what is in the pictures.
package camera
