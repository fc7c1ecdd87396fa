package copies

import (
	"bytes"
	"context"
	"os"
	"testing"

	"stowright/store"
	"stowright/store/disk"
)

// A copy of which a record was written wrong is not taken, by either proof.
func TestProofs(t *testing.T) {
	for name, proof := range map[string]proof{"all": store.Verify, "read": readAll} {
		t.Run(name, func(t *testing.T) {
			shop, _ := smallShop(t)
			path := shop.File()
			if err := shop.Close(); err != nil {
				t.Fatal(err)
			}
			if end, err := proof(context.Background(), path); err != nil || end.Seq != 2 {
				t.Errorf("a good copy: %v, %v", end, err)
			}
			ctx, cancel := context.WithCancel(context.Background())
			cancel()
			if _, err := proof(ctx, path); err == nil {
				t.Error("it cannot be cancelled")
			}
			data, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			wrong := bytes.ReplaceAll(data, []byte(`"q":"24 ea"`), []byte(`"q":"23 ea"`))
			if bytes.Equal(wrong, data) {
				t.Fatal("the count is not in the file")
			}
			if err := os.WriteFile(path, wrong, disk.FilePerm); err != nil {
				t.Fatal(err)
			}
			if _, err := proof(context.Background(), path); store.KindOf(err) != store.Corrupt {
				t.Errorf("a copy with a wrong record: %v", err)
			}
		})
	}
}
