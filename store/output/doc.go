// Package output writes the files that a person asks for: label sheets, drawings,
// claims, photographs, exports and tables. Write is the only way to make one.
//
// It guarantees that a file appears whole or not at all, that nothing which is there
// already is written over unasked, and that a shop file, what lies beside it, and a safe
// copy are never written over at all, by whatever name, link or spelling they are reached.
// Such a file is known by what is in it, and by its name only in addition.
//
// It knows nothing of what it writes. The shop file itself and the
// copies of it are not written here.
package output
