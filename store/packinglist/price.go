package packinglist

import (
	"regexp"
	"slices"
	"strings"
)

// Prices are read to say what a claim is worth, and for nothing else: a price that cannot be
// read with certainty is not known, and keeps no line out.

// unitPrice are headings, as words makes them, of a column that has the price of one unit. A
// plain "Price" may be that of the line.
var unitPrice = []string{"unit price", "unit cost", "price each", "cost each", "each price", "price per unit", "price unit", "price ea"}

// currencies are the codes that are looked for in headings and cells. ISO 4217.
var currencies = []string{"USD", "CAD", "AUD", "NZD", "EUR", "GBP", "CHF", "SEK", "NOK", "DKK", "CZK", "PLN", "ZAR", "JPY"}

// signs are the signs that stand for one currency alone.
var signs = map[string]string{"€": "EUR", "£": "GBP"}

// priceHeading reports whether a heading is that of the price of one unit, with or without
// a currency.
func priceHeading(w string) bool {
	if at := strings.LastIndexByte(w, ' '); at >= 0 && slices.Contains(currencies, strings.ToUpper(w[at+1:])) {
		w = w[:at]
	}
	return slices.Contains(unitPrice, w)
}

var (
	pricePoint = regexp.MustCompile(`^(\d{1,9}|\d{1,3}(,\d{3})+)?(\.\d{1,6})?$`)
	priceComma = regexp.MustCompile(`^(\d{1,9}|\d{1,3}(\.\d{3})+),\d{1,6}$`)
	priceWhole = regexp.MustCompile(`^\d{1,3}[.,]\d{3}$`) // thousands, or thousandths
)

// priceNumber is the figure of a price with a point for its decimals; empty where it is
// none, costs nothing, or can be read in two ways.
func priceNumber(s string) string {
	switch {
	case priceWhole.MatchString(s) && !strings.HasPrefix(s, "0"):
		return ""
	case priceComma.MatchString(s):
		s = strings.Replace(strings.ReplaceAll(s, ".", ""), ",", ".", 1)
	case pricePoint.MatchString(s):
		s = strings.ReplaceAll(s, ",", "")
	default:
		return ""
	}
	if strings.Trim(s, "0.") == "" {
		return "" // what is part of a kit is often listed so, and is worth something
	}
	return s
}

// price is what one unit of a line costs, "4.50 USD", as far as the list says so.
func (rd *sheetReader) price(r Row) string {
	cell := rd.text(r, Price)
	code, rest := currencyIn(cell)
	number := priceNumber(strings.TrimSpace(rest))
	if number == "" {
		return ""
	}
	if code == "" {
		code, _ = currencyIn(rd.heading(Price))
	}
	if code == "" {
		code = rd.askCurrency(r, strings.Contains(cell, "$"))
	}
	if code == "" || code == "none" {
		return ""
	}
	return number + " " + code
}

// currencyIn is the currency that a text names, and the text without it.
func currencyIn(s string) (code, rest string) {
	for sign, code := range signs {
		if strings.Contains(s, sign) {
			return code, strings.Replace(s, sign, "", 1)
		}
	}
	for _, word := range strings.FieldsFunc(s, func(r rune) bool { return !('A' <= r && r <= 'Z' || 'a' <= r && r <= 'z') }) {
		if at := slices.Index(currencies, strings.ToUpper(word)); at >= 0 {
			return currencies[at], strings.Replace(strings.Replace(s, word, "", 1), "$", "", 1)
		}
	}
	return "", strings.Replace(s, "$", "", 1)
}

// askCurrency asks once which currency the prices of the list are in.
func (rd *sheetReader) askCurrency(r Row, dollars bool) string {
	codes := []string{"USD", "EUR", "GBP", "CAD", "AUD"}
	if dollars {
		codes = []string{"USD", "CAD", "AUD", "NZD"}
	}
	q := Question{ID: "currency", Text: "which currency are the prices in?"}
	for _, c := range codes {
		q.Readings = append(q.Readings, Answer{c, "they are in " + c})
	}
	q.Readings = append(q.Readings, Answer{"none", "nobody knows: leave the prices out"})
	return rd.ask(q, r, rd.cols.at[Price])
}
