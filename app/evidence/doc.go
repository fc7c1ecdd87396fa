// Package evidence puts together what the shop knows of one thing: a sub-assembly, an item, a
// lot, a component, or an aircraft with all that was built for it; and what all of it cost, by
// day. A book is gathered from one reading, as plain data, and written as pages or as a table.
//
// It says what was recorded, by whom and when, and by which paper, and nothing about the work:
// no word of it means that something may fly, or that anybody looked at it who is not named.
package evidence
