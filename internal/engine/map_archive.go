//go:build !small

package engine

import (
	"io"

	"github.com/geocoris/geocoris/geo/geofile"
)

// archived is the same document packed.
func (t kmlText) archived() []rendering { return []rendering{{"zones.kmz", t.archive}} }

func (t kmlText) archive(w io.Writer) error {
	text, err := t()
	if err != nil {
		return err
	}
	return geofile.ArchiveKML(w, text)
}
