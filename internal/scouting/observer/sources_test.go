package observer_test

import (
	"github.com/geocoris/geocoris/geo/geofile"
)

// typed is a table of counts in memory.
func typed(text string) []geofile.Source {
	return []geofile.Source{{Name: "-", Content: []byte(text)}}
}
