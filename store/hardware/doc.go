// Package hardware knows aircraft hardware by its published tables: it decodes
// AN, MS and NAS designations, tells look-alikes apart, identifies a piece by
// measurement, and chooses bolts and rivets for a thickness.
//
// One engine does it for every family. A designation is a standard number
// followed by letters and numbers, "AN3" "" "5" "A": a series holds which
// letters and which numbers its standard allows and the figures that belong to
// each of them, so a family is its grammar and its tables and no code of its
// own. Every figure carries the standard or handbook it comes from and how many
// independent published sources were seen to agree; none at all is said on
// everything that shows the figure. What no source gives is said to be unknown.
//
// All of it helps a person and approves nothing: plans, the kit maker's
// instructions and the authority govern.
package hardware
