package unpack

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"unicode"
)

// claimPath proposes a file for the claim of an order.
func claimPath(folder, order string) string {
	name := strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) || r == '-' {
			return r
		}
		return '-'
	}, order)
	return filepath.Join(folder, strings.TrimSuffix("claim-"+name, "-")+".txt")
}

// writeText writes a text file whole or not at all: to a temporary name beside it
// first, then over it. The folder has to be there.
func writeText(path, text string) (err error) {
	if path == "" {
		return say("Say where to save it: a folder and a name, such as claim.txt.")
	}
	dir := filepath.Dir(path)
	f, err := os.CreateTemp(dir, "."+filepath.Base(path)+".*")
	if err != nil {
		return fmt.Errorf("the folder %q cannot be written to: choose another (%w)", dir, err)
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, os.Remove(f.Name()))
		}
	}()
	if _, err = f.WriteString(text); err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err != nil {
		return fmt.Errorf("writing %q: %w", path, err)
	}
	if err = os.Rename(f.Name(), path); err != nil {
		return fmt.Errorf("writing %q: %w", path, err)
	}
	return syncFolder(dir)
}

// syncFolder makes sure that the new name is on the disk.
func syncFolder(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return fmt.Errorf("opening the folder %q: %w", dir, err)
	}
	err = d.Sync()
	return errors.Join(err, d.Close())
}
