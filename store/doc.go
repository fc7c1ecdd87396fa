// Package store keeps a shop: its items, places, stock, shipments and
// sub-assemblies, and the journal that they all add up to, in one bbolt file.
//
// Every change is one verb: one call, one synced transaction, one journal entry.
// An entry lists the changes it made, each with what stood before and after (or,
// for stock, by how much it went up or down), so that the journal replayed from
// nothing gives the same shop, Undo can write the opposite, and Check can prove
// both. Nothing else writes the file, and no transaction leaves the package:
// what is returned is a copy.
//
// A Shop is safe for use by several goroutines. It knows no window and draws
// nothing.
package store
