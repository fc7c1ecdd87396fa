// Package app is the desktop window: the frame that every screen lives in (top
// bar with the command bar, rail, work area, card, footer), navigation, the keys
// that work everywhere, and the one place where background work comes back to
// Fyne's goroutine. It opens no file and knows no record: it is handed pages,
// words and callbacks. All of it must be called on Fyne's goroutine.
package app
