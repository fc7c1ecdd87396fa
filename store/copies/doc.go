// Package copies makes safe copies of a shop file, keeps those that are needed, says
// which of them is the newest, and restores one.
//
// A copy is a whole shop file. Its name says when it was made, how many entries its
// journal has and why, so that copies can be listed without being opened. Which of them
// is the newest follows from what is in their journals (see [List]), and never from a
// clock. A copy is made under another name and read again before it gets its own; the
// same holds for a file that is restored, and what it replaces is kept.
package copies
