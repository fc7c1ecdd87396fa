package demo

import (
	"slices"
	"strings"

	"stowright/assets/demo"
	"stowright/store"
)

// Is reports whether a shop is one that Fill or Generate began, by what they do first. One
// in which nothing was done yet is, too: there is nothing in it.
func Is(shop *store.Shop) (bool, error) {
	last, err := shop.Entries(0, 1)
	if err != nil || len(last) == 0 {
		return err == nil, err
	}
	settings, err := shop.Settings()
	if err != nil || settings.Title == demoTitle && slices.Equal(settings.Hands, demo.Hands()) {
		return err == nil, err
	}
	for i, room := range generatedRooms {
		if last[0].Seq <= uint64(i) {
			return false, nil
		}
		e, err := shop.Entry(uint64(i + 1))
		if err != nil || !strings.Contains(e.Text, room) {
			return false, err
		}
	}
	return true, nil
}
