package store_test

import (
	"bufio"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stowright/store"
	"stowright/store/phototest"
)

// What was looked at through the map of the file does not stay in the memory of the process.
func TestLooksDoNotStayInMemory(t *testing.T) {
	shop, err := store.Open(filepath.Join(t.TempDir(), "looked-at.stow"), store.Options{Create: true})
	if err != nil {
		t.Fatal(err)
	}
	defer shop.Close()
	bin, _, err := shop.AddPlace(store.Place{Kind: store.Bin, Name: "Bin 1"})
	if err != nil {
		t.Fatal(err)
	}
	for i := range 20 {
		if _, _, err := shop.AddPhoto(store.OfPlace(bin.ID), "", phototest.JPEG(400, 300, uint64(i))); err != nil {
			t.Fatal(err)
		}
	}
	look := func() {
		for i := range uint64(20) {
			if _, err := shop.Picture(i + 1); err != nil {
				t.Fatal(err)
			}
		}
	}
	most := 0
	for i := 0; i < 100 && most == 0; i++ { // they may have been let go of at once
		look()
		most = mappedIn(t, shop.File())
	}
	if most == 0 {
		t.Fatal("nothing of the file lies in memory after looking at it, so nothing is proven")
	}
	for began := time.Now(); mappedIn(t, shop.File()) > most/4; time.Sleep(20 * time.Millisecond) {
		if time.Since(began) > 10*time.Second {
			t.Fatalf("of %d kB %d stay", most, mappedIn(t, shop.File()))
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
