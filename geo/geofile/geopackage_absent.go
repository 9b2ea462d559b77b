//go:build js || nosqlite

package geofile

import (
	"io"
)

// WithGeoPackage tells whether this build reads and writes GeoPackages.
const WithGeoPackage = false

// Formats are what is read, for messages.
const Formats = "GeoJSON, KML, KMZ, GPX or a zipped Shapefile"

// errNoGeoPackage is what a build without SQLite, such as the one for browsers, says
// of GeoPackages.
var errNoGeoPackage = &Error{Msg: "GeoPackages are not in this build", Hint: giveFormats}

func decodeGeoPackage([]byte, Limits) (Collection, error) {
	e := *errNoGeoPackage // the caller puts the file's name in
	return Collection{}, &e
}

// WriteGeoPackage is an error: SQLite is not in this build.
func WriteGeoPackage(io.Writer, []Layer) error { return errNoGeoPackage }
