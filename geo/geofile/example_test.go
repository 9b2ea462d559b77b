package geofile_test

import (
	"fmt"
	"os"
	"strings"

	"github.com/geocoris/geocoris/geo/geofile"
)

// A field drawn as KML, clockwise, becomes GeoJSON by RFC 7946.
func Example() {
	field := `<kml xmlns="http://www.opengis.net/kml/2.2"><Placemark><name>North</name><Polygon><outerBoundaryIs><LinearRing>
<coordinates>-101.61,35.9 -101.61,35.91 -101.6,35.91 -101.61,35.9</coordinates></LinearRing></outerBoundaryIs></Polygon></Placemark></kml>`
	c, err := geofile.Decode("field.kml", strings.NewReader(field), geofile.Limits{})
	if err != nil {
		fmt.Println(err)
		return
	}
	if err := geofile.WriteGeoJSON(os.Stdout, geofile.FeatureCollection{Features: c.Features}); err != nil {
		fmt.Println(err)
	}
	// Output:
	// {"type":"FeatureCollection","bbox":[-101.61,35.9,-101.6,35.91],"features":[
	// {"type":"Feature","properties":{"name":"North"},"geometry":{"type":"Polygon","coordinates":[[[-101.61,35.9],[-101.6,35.91],[-101.61,35.91],[-101.61,35.9]]]}}
	// ]}
}
