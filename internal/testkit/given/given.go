// Package given hands counts to tests as programs do: named bytes.
package given

import (
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
)

// Table is a table of counts in memory.
func Table(text string) []geofile.Source {
	return []geofile.Source{{Name: "-", Content: []byte(text)}}
}

// Files are files of counts on the disk.
func Files(t require.TestingT, paths ...string) (all []geofile.Source) {
	for _, path := range paths {
		from, err := geofile.Load(path, 1<<30)
		require.NoError(t, err)
		all = append(all, from)
	}
	return all
}
