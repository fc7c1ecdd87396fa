package unpack

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"unicode"

	"stowright/app/photos"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/output"
)

// claimPath proposes a file for the claim of an order.
func claimPath(folder, order string) string { return proposed(folder, "claim-"+order, ".txt") }

// proposed proposes a file by a name in which some characters may not stand.
func proposed(folder, words, ending string) string {
	name := strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) || r == '-' {
			return r
		}
		return '-'
	}, words)
	return filepath.Join(folder, strings.TrimSuffix(name, "-")+ending)
}

// saveClaim writes the text of a claim, and its photographs into a folder beside it, and
// says where they are.
func saveClaim(shop *store.Shop, path string, replace bool, text string, list []store.Photo) (said string, err error) {
	if path == "" {
		return "", say("Say where to save it: a folder and a name, such as claim.txt.")
	}
	files := []output.File{{Path: path, Write: func(w io.Writer) error { _, err := io.WriteString(w, text); return err }}}
	said = "Saved to " + path + "."
	if len(list) > 0 {
		folder := strings.TrimSuffix(path, filepath.Ext(path)) + "-photographs"
		names, pictures, err := photos.Files(shop, list, folder)
		if err != nil {
			return "", err
		}
		files = append(files, pictures...)
		said = fmt.Sprintf("Saved to %s, with %s in %s.", path, wording.Plural(len(names), "photograph", "photographs"), folder)
	}
	return said, output.Write(output.Options{Replace: replace, Shop: shop.File()}, files...)
}
