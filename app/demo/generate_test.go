package demo_test

import (
	"context"
	"testing"

	"stowright/app/demo"
	"stowright/store"
	"stowright/store/storetest"
)

func TestGenerate(t *testing.T) {
	clock := demo.NewClock(demo.Today, true)
	shop := storetest.Open(t, store.Options{Clock: clock.Now, Random: demo.Random()})
	told := 0
	if err := demo.Generate(t.Context(), shop, 300, func(done, _ int) { told = done }); err != nil {
		t.Fatal(err)
	}
	items, err := shop.Items()
	if err != nil || len(items) != 300 {
		t.Errorf("%d items, %v; want 300", len(items), err)
	}
	last, err := shop.Entries(0, 1)
	if err != nil || len(last) != 1 || last[0].Seq != 3000 || told != 3000 {
		t.Errorf("the last entries are %v, %d were told, %v; want number 3000", last, told, err)
	}
	report, err := shop.Check(t.Context(), nil)
	if err != nil || !report.OK {
		t.Errorf("check: %+v, %v", report, err)
	}
	ended, end := context.WithCancel(t.Context())
	end()
	if err := demo.Generate(ended, storetest.Open(t, store.Options{}), 300, nil); err == nil {
		t.Error("a generation that was ended went on")
	}
}
