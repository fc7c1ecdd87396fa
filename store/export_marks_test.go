package store

import "stowright/store/disk"

// CountRecords are all records of counts as they stand in the file, by heap: those of
// heaps that are gone too.
func CountRecords(s *Shop) (map[StockKey]Counted, error) {
	records := map[StockKey]Counted{}
	err := s.view(func(tx *disk.Tx) error {
		return scan(tx, tableCounted, "", func(key string, c Counted) error {
			k, err := parseStockKey(key)
			records[k] = c
			return err
		})
	})
	return records, err
}
