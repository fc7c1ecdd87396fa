package disk

import "stowright/store/fault"

// EndOf is where the journal of a file ends that may be open elsewhere, read plainly and
// without opening the file as a shop; zero where the journal is empty.
func EndOf(path string) (End, error) { return recordOf(path, nil) }

// RecordOf is the end that the journal of such a file had with a record of a number; zero
// where it has no such record.
func RecordOf(path string, seq uint64) (End, error) { return recordOf(path, SeqKey(seq)) }

func recordOf(path string, key []byte) (End, error) {
	file, newest, ok := plainly(path)
	if !ok {
		return End{}, fault.New(fault.Corrupt, path, "%s is damaged, or is not a shop file: keep it, and open a copy made earlier.", path)
	}
	defer file.Close()
	end, err := newest.journal(file, key)
	if err != nil {
		return End{}, errDamaged(path, err)
	}
	return end, nil
}
