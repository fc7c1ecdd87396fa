// Package store keeps a shop: its items, places, stock, shipments and
// sub-assemblies, and the journal that they all add up to, in one file (package disk).
//
// Every change is one verb: one call, one synced transaction, one journal entry.
// An entry lists the changes it made, each with what stood before and after (or,
// for stock, by how much it went up or down), so that the journal replayed from
// nothing gives the same shop, Undo can write the opposite, and Check can prove
// both. Nothing else writes the file, and no transaction leaves the package:
// what is returned is a copy.
//
// A file is never trusted. Open looks at every page of it first, every record
// carries a checksum and every entry the checksum of the one before, and a fault
// while reading becomes an error of kind Corrupt. Package copies makes safe copies of
// a shop in use and restores them; package exchange writes everything as plain lines,
// which it takes back. Both go over whole shops through Snapshot, Rebuild and NewFile.
//
// A Shop is safe for use by several goroutines. It knows no window and draws
// nothing. It does not look after photographs.
package store
