package session

import (
	"stowright/app/loop"
	"stowright/store"
)

// Forgetful is a session on a shop that keeps nothing of it: every answer is worked out anew.
// It has no index.
func Forgetful(shop *store.Shop, l loop.Loop) *Session { return &Session{Shop: shop, Loop: l} }

// NotInStock is what of an item is not in stock and is known of all the same.
func NotInStock(r *Reader, item string) ([]Away, error) { return r.notInStock(item) }
