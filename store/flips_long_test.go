//go:build torture

package store

import "testing"

func TestTortureFlippedKeys(t *testing.T) { flipKeys(t, 2000) }

// Seven ways to spoil a file, five hundred times each.
func TestTortureDamage(t *testing.T) { damageFiles(t, 500) }

func TestTortureFlippedBranches(t *testing.T) { flipBranches(t, 2000) }
