package engine_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/geocoris/geocoris/internal/engine"
)

// A boundary that only leads to another file says so.
func TestALinkAloneIsNoBoundary(t *testing.T) {
	const link = `<kml xmlns="http://www.opengis.net/kml/2.2"><Document><NetworkLink><Link><href>field.kml</href></Link></NetworkLink></Document></kml>`
	_, err := engine.Outlines(engine.Source{Name: "link.kml", Content: []byte(link)}, "", "")
	assert.EqualError(t, err, "link.kml: holds no outline; the link to field.kml was not followed: give the file that holds it")
}
