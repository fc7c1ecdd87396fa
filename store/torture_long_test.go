//go:build torture

package store_test

import "testing"

func TestTorture(t *testing.T) { torture(t, 300) }

func TestTorturePower(t *testing.T) {
	for range 30 { // shops that grow large take their time to be checked
		powerFails(t, 300, 25)
	}
}
