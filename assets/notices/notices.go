// Package notices holds the licences of everything that the program is built of, which go
// with every copy of it. The texts are taken from the modules themselves, by make notices.
package notices

import _ "embed" // the texts below

//go:embed NOTICES.txt
var text string

// Text is all of them, one module after another.
func Text() string { return text }
