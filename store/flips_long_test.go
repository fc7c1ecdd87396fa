//go:build torture

package store

import "testing"

func TestTortureFlippedKeys(t *testing.T) { flipKeys(t, 2000) }
