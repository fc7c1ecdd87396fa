package search

// CompareWithScan compares what the index finds with what looking at every one
// of the documents finds, for each of the queries, at most limit hits.
func CompareWithScan(t fataler, x *Index, docs []Doc, queries []string, limit int) {
	t.Helper()
	all := oracle{}
	for _, d := range docs {
		all.put(d)
	}
	for _, typed := range queries {
		compare(t, x, all, typed, limit)
	}
}
