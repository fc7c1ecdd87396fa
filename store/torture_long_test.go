//go:build torture

package store_test

import "testing"

func TestTorture(t *testing.T) { torture(t, 300) }
