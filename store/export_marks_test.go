package store

import "go.etcd.io/bbolt"

// CountRecords are all records of counts as they stand in the file, by heap: those of
// heaps that are gone too.
func CountRecords(s *Shop) (map[StockKey]Counted, error) {
	records := map[StockKey]Counted{}
	err := s.view(func(tx *bbolt.Tx) error {
		return scan(tx, tableCounted, "", func(key string, c Counted) error {
			k, _ := parseStockKey(key)
			records[k] = c
			return nil
		})
	})
	return records, err
}
