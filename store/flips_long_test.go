//go:build torture

package store

import "testing"

func TestTortureFlippedKeys(t *testing.T) { flipKeys(t, 2000) }

func TestTortureFlippedBranches(t *testing.T) { flipBranches(t, 2000) }
