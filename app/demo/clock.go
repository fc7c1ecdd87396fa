package demo

import (
	"io"
	"math/rand/v2"
	"sync"
	"time"
)

// Clock is the clock of the demo shop: it is set to days of the scenario, and runs
// on from there unless it is frozen. It is safe for use by several goroutines.
type Clock struct {
	mu     sync.Mutex
	at     time.Time // what it was set to
	set    time.Time // when, by the machine's clock
	frozen bool
}

// NewClock returns a clock that shows at. A frozen clock moves only when it is set.
func NewClock(at time.Time, frozen bool) *Clock {
	return &Clock{at: at, set: time.Now(), frozen: frozen}
}

// Now is the time it shows.
func (c *Clock) Now() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.frozen {
		return c.at
	}
	return c.at.Add(time.Since(c.set))
}

// Set makes it show at.
func (c *Clock) Set(at time.Time) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.at, c.set = at, time.Now()
}

// The days of the scenario, at the hours when the work was done.
var (
	ArrivalDay = time.Date(2026, 3, 14, 9, 30, 0, 0, time.UTC)
	StowDay    = time.Date(2026, 3, 15, 14, 0, 0, 0, time.UTC)
	Today      = time.Date(2026, 3, 18, 10, 0, 0, 0, time.UTC)
)

// Random makes the ids and tags of a demo shop the same in every run, for pictures
// that do not change by themselves. A shop for use draws its tags at random.
func Random() io.Reader { return rand.NewChaCha8([32]byte{}) }
