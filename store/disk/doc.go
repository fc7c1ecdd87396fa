// Package disk keeps one file that survives: a bbolt database with a write-ahead log
// beside it. It knows bytes, buckets, a journal of records that are chained by their
// checksums, and how all of them are sealed; it knows nothing of what they mean. No type
// of bbolt leaves the package, and no other package imports it.
//
// What it guarantees:
//   - Once Update has returned, what it did is on the disk, whatever happens to the
//     program or the power. A file that was not closed is recovered when it is opened.
//   - A file that is damaged, cut short or replaced is refused as fault.Corrupt, by a
//     whole sentence, and never read wrongly, faulted on or written any more.
//   - One program has the file at a time; a second one gets fault.Busy within a second, and
//     may read a snapshot of what is on the disk.
package disk
