package app

import "stowright/app/notice"

// FirstKey keeps the first key on a page from changing anything at once: it may have been meant
// for the page before. The same key again is meant, and so is any once the person has worked
// with the page. Its zero value is that of a page just gone to.
type FirstKey struct {
	taken  bool   // the person has worked with the page
	warned string // the key that was stopped last; empty for none
}

// Taken says that the person has worked with the page: has chosen a row, or used a key of it.
func (k *FirstKey) Taken() { k.taken = true }

// Stops reports whether a key does nothing yet, and says so. Hasty is what is said of a key that
// would change something at once; nil for any other.
func (k *FirstKey) Stops(key string, hasty *notice.Notice, host Asker) bool {
	if hasty != nil && !k.taken && k.warned != key {
		k.warned = key
		host.Say(*hasty)
		return true
	}
	if k.warned != "" {
		k.warned = ""
		host.Hush()
	}
	return false
}
