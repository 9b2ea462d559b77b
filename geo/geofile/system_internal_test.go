package geofile

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What is read by hand, so that a phone needs no expressions, is what these expressions mean.
func TestNamesOfSystemsByHandAreThoseOfExpressions(t *testing.T) {
	code := regexp.MustCompile(`(?i)epsg\D+(?:[\d.]+[:/])?(\d{4,5})$`)
	for _, name := range []string{
		"EPSG:32614", "urn:ogc:def:crs:EPSG::32614", "urn:ogc:def:crs:EPSG:6.9:4326", "http://www.opengis.net/def/crs/EPSG/0/26914",
		"http://www.opengis.net/def/crs/EPSG/9.8.6/26914", "epsg 3857", "EPSG32614", "EPSG", "EPSG:", "EPSG:326", "EPSG:326140", "EPSG:32614 ", "EPSG:x:32614",
		"EPSG:1:x32614", "urn:ogc:def:crs,crs:EPSG::32614,crs:EPSG::5773", "32614", "", "EPSG::é32614", "EPSG:6a:32614",
	} {
		want := 0
		if m := code.FindStringSubmatch(name); m != nil {
			want, _ = strconv.Atoi(m[1])
		}
		assert.Equal(t, want, epsgCode(name), name)
	}

	outer := regexp.MustCompile(`^\s*\w+\["([^"]*)"`)
	datum := regexp.MustCompile(`(?i)\bDATUM\["([^"]*)"`)
	parameter := regexp.MustCompile(`(?i)PARAMETER\["([^"]+)",([-+.\dE]+)\]`)
	pieces := []string{`PROJCS["A b"`, `datum["NAD 83"`, `VERT_DATUM["x"`, `DATUM["`, `,`, ` `, `"`, `]`, `Parameter["Scale",0.9996]`, `PARAMETER["a",1e7`, `PARAMETER["",1]`, `PARAMETER["b", 1]`, "é"}
	for i := range pow(len(pieces), 4) {
		var b strings.Builder
		for range 4 {
			b.WriteString(pieces[i%len(pieces)])
			i /= len(pieces)
		}
		text := b.String()
		wantName, wantDatum, wantNumbers := "an unnamed system", "", map[string]float64{}
		if m := outer.FindStringSubmatch(text); m != nil {
			wantName = m[1]
		}
		if m := datum.FindStringSubmatch(text); m != nil {
			wantDatum = strings.ToUpper(m[1])
		}
		for _, m := range parameter.FindAllStringSubmatch(text, -1) {
			wantNumbers[strings.ToLower(m[1])], _ = strconv.ParseFloat(m[2], 64)
		}
		require.Equal(t, wantName, wktName(text), text)
		require.Equal(t, wantDatum, wktDatum(text), text)
		require.Equal(t, wantNumbers, wktParameters(text), text)
	}
}

func pow(base, exponent int) int {
	all := 1
	for range exponent {
		all *= base
	}
	return all
}

func TestNamesOfColumnsByHand(t *testing.T) {
	form := regexp.MustCompile(`^[A-Za-z][A-Za-z0-9_]{0,9}$`)
	for _, name := range []string{"", "a", "Z9_", "_a", "9a", "abcdefghij", "abcdefghijk", "a b", "é", "aé", "a-b"} {
		assert.Equal(t, form.MatchString(name), isColumnName(name), name)
	}
}
