package labels_test

import (
	"testing"

	"stowright/labels"
)

// A sheet is laid out for the paper that its region takes.
func TestOfficePaper(t *testing.T) {
	const letter, a4 = 215.9, 210
	for locale, want := range map[string]float64{
		"en_US.UTF-8": letter, "es-MX": letter, "fr_CA": letter, "en_US@currency=EUR": letter,
		"de_DE.UTF-8": a4, "en_GB": a4, "en-AU": a4, "zh-Hans-CN": a4, "nl_NL@euro": a4,
		"C.UTF-8": letter, "POSIX": letter, "de": letter, "": letter,
	} {
		if got := labels.OfficePaper(locale).PageW; got != want {
			t.Errorf("%q: a sheet %v mm wide, want %v", locale, got, want)
		}
	}
}
