//go:build small

package geofile_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
)

func TestASmallBuildReadsEncodingsOfSingleBytes(t *testing.T) {
	kml := func(encoding, name string) (geofile.Collection, error) {
		return geofile.Decode("farm.kml", strings.NewReader(`<?xml version="1.0" encoding="`+encoding+`"?><kml xmlns="http://www.opengis.net/kml/2.2"><Placemark><name>`+name+
			`</name><Point><coordinates>-97,31</coordinates></Point></Placemark></kml>`), geofile.Limits{})
	}
	for encoding, name := range map[string]string{"windows-1252": "Caf\xe9", "ISO-8859-15": "Caf\xe9", "utf-8": "Café"} {
		c, err := kml(encoding, name)
		require.NoError(t, err, encoding)
		got, _ := c.Features[0].Properties.Get("name")
		assert.Equal(t, "Café", got, encoding)
	}
	_, err := kml("big5", "x")
	assert.ErrorContains(t, err, `the encoding "big5" is not in this build`)
}
