package labels

import "strings"

// letterTerritories take US Letter in their offices, all others A4. Source: Unicode CLDR,
// supplemental data, paperSize US-Letter.
var letterTerritories = map[string]bool{
	"BZ": true, "CA": true, "CL": true, "CO": true, "CR": true, "GT": true, "MX": true, "NI": true,
	"PA": true, "PH": true, "PR": true, "SV": true, "US": true, "VE": true,
}

// OfficePaper is the sheet that papers are laid out for where a locale holds: "de_DE.UTF-8",
// "en-GB", "en_US@currency=EUR". Where it names no territory, nobody knows, and it is US Letter.
func OfficePaper(locale string) Stock {
	name := "letter-3x10"
	plain, _, _ := strings.Cut(locale, ".")
	plain, _, _ = strings.Cut(plain, "@")
	parts := strings.FieldsFunc(plain, func(r rune) bool { return r == '_' || r == '-' })
	for i, part := range parts {
		if i > 0 && len(part) == 2 && !letterTerritories[strings.ToUpper(part)] {
			name = "a4-3x7"
		}
	}
	for _, s := range Stocks() {
		if s.Name == name {
			return s
		}
	}
	return Stocks()[0]
}
