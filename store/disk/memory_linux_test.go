package disk

import (
	"bufio"
	"bytes"
	"fmt"
	"os"
	"strings"
	"testing"
	"time"
)

// What was looked at through the map of the file does not stay in the memory of the process.
func TestLooksDoNotStayInMemory(t *testing.T) {
	y := newToy(t)
	blob := bytes.Repeat([]byte("picture "), 8<<10)
	for i := range uint64(20) {
		if err := y.Update(func(tx *Tx) error { return tx.PutBlob(i+1, blob) }); err != nil {
			t.Fatal(err)
		}
	}
	look := func() {
		for i := range uint64(20) {
			err := y.View(func(tx *Tx) error {
				got, err := tx.Blob(i + 1)
				if !bytes.Equal(got, blob) {
					t.Errorf("blob %d has %d bytes of %d", i+1, len(got), len(blob))
				}
				return err
			})
			if err != nil {
				t.Fatal(err)
			}
		}
	}
	most := 0
	for i := 0; i < 100 && most == 0; i++ { // they may have been let go of at once
		look()
		most = mappedIn(t, y.path)
	}
	if most == 0 {
		t.Fatal("nothing of the file lies in memory after looking at it, so nothing is proven")
	}
	for began := time.Now(); mappedIn(t, y.path) > most/4; time.Sleep(20 * time.Millisecond) {
		if time.Since(began) > 10*time.Second {
			t.Fatalf("of %d kB %d stay", most, mappedIn(t, y.path))
		}
	}
	look() // what was let go of is there all the same
}

// mappedIn is how many kB of a file lie in the memory of the process through a map.
func mappedIn(t *testing.T, file string) int {
	t.Helper()
	f, err := os.Open("/proc/self/smaps")
	if err != nil {
		t.Skip(err)
	}
	defer f.Close()
	sum, ours := 0, false
	for lines := bufio.NewScanner(f); lines.Scan(); {
		text := lines.Text()
		if strings.HasSuffix(text, file) {
			ours = true
		}
		var kB int
		if n, _ := fmt.Sscanf(text, "Rss: %d kB", &kB); n == 1 {
			if ours {
				sum += kB
			}
			ours = false
		}
	}
	return sum
}
