// Package hush has what libraries log before the program begins go nowhere, by being imported.
//
// Fyne reads the system's language as it is initialised, and logs on standard error what it
// cannot read, such as de_DE@euro. That is before main can send the log elsewhere, and no
// business of the person's terminal. Of packages that are ready the one whose path sorts
// first is initialised (Go specification, Package initialization), and Fyne waits for
// text/template: this package, which imports none that sorts behind it, comes before.
package hush

import (
	"io"
	"log"
)

func init() { log.SetOutput(io.Discard) } // until main opens the program's own log
