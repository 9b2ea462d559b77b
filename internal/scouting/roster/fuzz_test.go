package roster_test

import (
	"testing"

	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/scouting/roster"
)

// FuzzRead reads lists of fields that are none, or nearly some. What is read names its fields.
func FuzzRead(f *testing.F) {
	for _, text := range []string{
		"field,grower,rule,stage,treat_at,watch_at,date\nPivot,A,,boot,50,12,2026-07-15\n", "field;treat_at\nA;1,5\nA;2\n", "field\n", "\xff\xfef\x00", "field,date\n\"A\n", "",
	} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		list, err := roster.Read(geofile.Source{Name: "fields.csv", Content: text}, "")
		if err != nil {
			return
		}
		for _, e := range list.Entries {
			if e.Field == "" || e.At == "" {
				t.Fatalf("%+v", e)
			}
		}
	})
}
