// Package folders is how a file or a folder is chosen: what fits, where looking for it
// begins, the walk from folder to folder, and why a path cannot be taken. It shows
// nothing, which app/look does, and opens nothing of what is chosen.
package folders

import (
	"path/filepath"
	"slices"
	"strings"
)

// Want is what is to be chosen: a File, a Source, a Folder or a NewFile.
type Want struct {
	kind    kind
	endings []string
	name    string
}

type kind int

const (
	file kind = iota
	source
	folder
	newFile
)

// File wants a file that is there, with one of those endings, such as ".csv".
func File(endings ...string) Want { return Want{kind: file, endings: endings} }

// Source wants such a file, or a folder with such files in it.
func Source(endings ...string) Want { return Want{kind: source, endings: endings} }

// Folder wants a folder that something is written into.
func Folder() Want { return Want{kind: folder} }

// NewFile wants the place of a file that is written; it is called name until something
// else is typed, which may end otherwise where other endings are given.
func NewFile(name string, others ...string) Want {
	return Want{kind: newFile, endings: append([]string{filepath.Ext(name)}, others...), name: name}
}

// Writes reports whether something is written to what is chosen.
func (w Want) Writes() bool { return w.kind == folder || w.kind == newFile }

// Title says what is to be chosen.
func (w Want) Title() string {
	switch w.kind {
	case source:
		return "Choose a file, or a folder of them"
	case folder:
		return "Choose a folder"
	case newFile:
		return "Choose where to save it"
	default:
		return "Choose a file"
	}
}

// fits reports whether a file is of those that can be chosen.
func (w Want) fits(name string) bool {
	return slices.ContainsFunc(w.endings, func(e string) bool { return strings.EqualFold(filepath.Ext(name), e) })
}

// shown says which of the files that lie in a folder are shown.
func (w Want) shown() string {
	words := "Shown are folders, and files that end in " + or(w.endings) + "."
	switch w.kind {
	case folder:
		return "Shown are folders alone."
	case newFile:
		return words + " You are asked before one of these is written over."
	default:
		return words
	}
}

// or is "a, b or c".
func or(words []string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " or " + words[n-1]
	}
	return strings.Join(words, "")
}
