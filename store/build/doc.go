// Package build holds the rules of building and ordering: what is needed, what of the
// stock is promised to which sub-assembly, which ones can be started and what stops
// the others, what is pulled on which way through the shop, what may be booked at a
// tray, and what is to be ordered.
//
// Its rules are pure: a [Reading] says what the shop knew at one moment, as plain
// values, and every answer follows from it alone. Nothing here opens a file, asks a
// clock or changes what it was given. Whoever fills a Reading may keep it and change
// it between calls; one that is being read must not be changed.
//
// Quantities are never converted: stock in another unit than a requirement asks for
// is said to be uncounted. Of an estimate only the low end of its range is promised.
// Every answer carries its reasons. None of it says that a part is fit for use: plans,
// the kit maker's instructions and the authority govern.
package build
