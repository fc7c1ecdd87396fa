package hardware

import (
	"strings"
	"sync"

	"stowright/assets/standards"
)

// singleUse has the source by kind of what is used once.
var singleUse = sync.OnceValue(func() map[Kind]string {
	rules, err := standards.Read("single_use")
	if err != nil {
		panic("hardware: " + err.Error()) // it is embedded
	}
	sources := map[Kind]string{}
	for _, r := range rules.Rows {
		source := strings.Replace(r.Source(), "par. ", "", 1)
		if r.Checked("checked") == 0 {
			source += ", not cross-checked"
		}
		sources[Kind(r.Get("kind"))] = source
	}
	return sources
})

// SingleUse reports whether a piece is used once, so that it is never good again once it
// came out of an aircraft, and by which source: "AC 43.13-1B 7-38".
func SingleUse(designation string) (source string, ok bool) {
	source, ok = singleUse()[Decode(designation).Kind]
	return source, ok
}
