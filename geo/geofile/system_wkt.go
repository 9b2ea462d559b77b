package geofile

import (
	"strconv"
	"strings"
)

// What is taken from well-known text of 2001 (OGC 01-009), such as
// PROJCS["WGS 84 / UTM zone 14N",GEOGCS["WGS 84",DATUM["WGS_1984",…]],…,PARAMETER["scale_factor",0.9996],…].

// wktName is the name of the outermost system.
func wktName(text string) string {
	keyword, behind, _ := strings.Cut(strings.TrimLeft(text, " \t\r\n\f"), `["`)
	name, _, closed := strings.Cut(behind, `"`)
	if !closed || keyword == "" || strings.TrimFunc(keyword, isWord) != "" {
		return "an unnamed system"
	}
	return name
}

// wktDatum is the name of the datum in capitals; "" for none. That of heights is another.
func wktDatum(text string) string {
	const keyword = `DATUM["`
	upper := strings.ToUpper(text)
	for before, behind, found := strings.Cut(upper, keyword); found; before, behind, found = strings.Cut(behind, keyword) {
		name, _, closed := strings.Cut(behind, `"`)
		if closed && strings.TrimRightFunc(before, isWord) == before {
			return name
		}
	}
	return ""
}

// wktParameters are the numbers of the projection by their names, in small letters.
func wktParameters(text string) map[string]float64 {
	all := map[string]float64{}
	for _, behind := range strings.Split(strings.ToUpper(text), `PARAMETER["`)[1:] {
		name, behind, _ := strings.Cut(behind, `",`)
		number, _, closed := strings.Cut(behind, "]")
		if closed && name != "" && number != "" && strings.Trim(number, "-+.0123456789E") == "" {
			all[strings.ToLower(name)], _ = strconv.ParseFloat(number, 64)
		}
	}
	return all
}

// isWord reports a letter, a digit or an underscore of ASCII.
func isWord(c rune) bool {
	return isDigit(c) || c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c == '_'
}
