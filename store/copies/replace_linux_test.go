package copies

import (
	"context"
	"os"
	"runtime"
	"testing"
	"time"

	"stowright/store"
	"stowright/store/disk"
	"stowright/store/measure"
)

// openFiles is how often this program has a file open.
func openFiles(t *testing.T, path string) (n int) {
	t.Helper()
	files, err := os.ReadDir("/proc/self/fd")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if target, err := os.Readlink("/proc/self/fd/" + f.Name()); err == nil && target == path {
			n++
		}
	}
	return n
}

// A program that waits for the file while another one puts a copy in its place gets
// the new file, and not the one that was set aside: nothing that it writes is lost.
func TestOpenWhileReplaced(t *testing.T) {
	shop, heap := smallShop(t)
	path := shop.File()
	made, err := NewKeeper(shop, "").Make(context.Background(), "", ByHand)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := shop.Count(heap, measure.Pieces(1)); err != nil {
		t.Fatal(err)
	}
	if err := shop.Close(); err != nil {
		t.Fatal(err)
	}
	plan, err := PlanRestoreFrom(context.Background(), path, made.File)
	if err != nil {
		t.Fatal(err)
	}
	r, err := plan.Prepare(context.Background(), false)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Discard()
	unlock, err := disk.Lock(path)
	if err != nil {
		t.Fatal(err)
	}
	type opened struct {
		shop *store.Shop
		err  error
	}
	other := make(chan opened)
	go func() {
		s, err := store.Open(path, store.Options{})
		other <- opened{s, err}
	}()
	for began := time.Now(); openFiles(t, path) < 2; runtime.Gosched() {
		if time.Since(began) > 10*time.Second {
			t.Fatal("the other program does not open the file")
		}
	}
	aside, err := r.replace(unlock)
	if err != nil {
		t.Fatal(err)
	}
	unlock()
	got := <-other
	if got.err != nil {
		t.Fatalf("the other program says %v", got.err)
	}
	if _, err := got.shop.Count(heap, measure.Pieces(7)); err != nil {
		t.Fatal(err)
	}
	if err := got.shop.Close(); err != nil {
		t.Fatal(err)
	}
	for file, want := range map[string]uint64{path: made.Entries + 1, aside: made.Entries + 1} {
		end, err := store.Verify(context.Background(), file)
		if err != nil || end.Seq != want {
			t.Errorf("%s has %d entries, %v; want %d", file, end.Seq, err, want)
		}
	}
	if again, err := store.Open(path, store.Options{}); err != nil {
		t.Error(err)
	} else {
		defer again.Close()
		if stock, err := again.Stock(); err != nil || len(stock) != 1 || stock[0].Amount != store.Exact(measure.Pieces(7)) {
			t.Errorf("the restored file has %v, %v", stock, err)
		}
	}
}

// While a file is being replaced, another program is told that it is busy.
func TestBusyWhileReplaced(t *testing.T) {
	shop, _ := smallShop(t)
	path := shop.File()
	if _, err := disk.Lock(path); store.KindOf(err) != store.Busy {
		t.Errorf("the lock of an open shop: %v", err)
	}
	if err := shop.Close(); err != nil {
		t.Fatal(err)
	}
	unlock, err := disk.Lock(path)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := store.Open(path, store.Options{}); store.KindOf(err) != store.Busy {
		t.Errorf("opened while locked: %v", err)
	}
	unlock()
	if again, err := store.Open(path, store.Options{}); err != nil {
		t.Error(err)
	} else {
		_ = again.Close()
	}
}
