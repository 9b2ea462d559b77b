package geofile_test

import (
	"bytes"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo/geofile"
)

// Viewers read descriptions as HTML: what stands in a file's names must not become a tag.
func TestDescriptionsHoldNoTags(t *testing.T) {
	var b bytes.Buffer
	const tag = `<img src=x onerror=alert(1)>`
	require.NoError(t, geofile.WriteKML(&b, geofile.Document{Name: "d", Description: tag, Folders: []geofile.Folder{{
		Name: "f", Description: tag, Placemarks: []geofile.Placemark{{Name: "p", Description: "5 < 6 & " + tag, Geometry: orb.Point{1, 2}}},
	}}}))
	text := b.String()
	assert.NotContains(t, text, "&lt;img", "once unescaped it is a tag")
	assert.Contains(t, text, "5 &amp;lt; 6 &amp;amp; &amp;lt;img")
}
