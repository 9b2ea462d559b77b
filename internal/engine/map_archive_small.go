//go:build small

package engine

import (
	"io"

	"github.com/geocoris/geocoris/geo/geofile"
)

// kmlFiles are a document as KML alone: a page has no use for it packed.
func kmlFiles(d geofile.Document) []rendering {
	return []rendering{{"zones.kml", func(w io.Writer) error { return geofile.WriteKML(w, d) }}}
}

// kmlFilesAlone are the same.
func kmlFilesAlone(d geofile.Document) []rendering { return kmlFiles(d) }
