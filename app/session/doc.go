// Package session is an open shop as the desktop and the command line share it:
// the store, the index behind Find that is kept current with it, and the joins of
// store, hardware and labels that more than one screen needs. It knows no window.
package session
