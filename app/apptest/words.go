package apptest

import (
	"strings"
	"testing"

	"stowright/app/table"
)

// Words are rows as a person reads them, one a line: "AN3-5A | Bolt | 20 | in A-12".
func Words(rows []table.Row) string {
	var lines []string
	for _, row := range rows {
		lines = append(lines, strings.Join(row.Texts(), " | "))
	}
	return strings.Join(lines, "\n")
}

// Compare fails unless what is shown reads as it should.
func Compare(t testing.TB, what, got, want string) {
	t.Helper()
	if got != want {
		t.Errorf("%s:\n%s\nwant:\n%s", what, got, want)
	}
}
