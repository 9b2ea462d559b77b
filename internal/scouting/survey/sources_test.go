package survey_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
)

// typed is a table of counts in memory.
func typed(text string) []geofile.Source {
	return []geofile.Source{{Name: "-", Content: []byte(text)}}
}

// loaded are files of counts on the disk.
func loaded(t testing.TB, paths ...string) (all []geofile.Source) {
	t.Helper()
	for _, path := range paths {
		from, err := geofile.Load(path, 1<<30)
		require.NoError(t, err)
		all = append(all, from)
	}
	return all
}
