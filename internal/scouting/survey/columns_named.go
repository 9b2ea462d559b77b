package survey

import (
	"fmt"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/geo/geofile"
)

// SwapHint is how to fix it where a boundary was given for counts, or counts for a boundary.
const SwapHint = "files of counts stand without a flag, and --field names the file of the outline: are the two swapped?"

// HoldsCounts reports whether a file has the columns of a table of counts.
func HoldsCounts(from geofile.Source) bool {
	t, err := readTable(from.Base(), from, Options{})
	if err != nil {
		return false
	}
	if t.partPairs(Options{}) != nil { // only the order of its angles is open
		return true
	}
	_, _, err = layOut(t, Options{UnnamedStops: true})
	return err == nil
}

// outlinesAlone reports whether features are ground, all of them.
func outlinesAlone(features []geo.Feature) bool {
	for _, f := range features {
		switch f.Geometry.(type) {
		case orb.Polygon, orb.MultiPolygon:
		default:
			return false
		}
	}
	return len(features) > 0
}

// noCounts refuses outlines where counts are wanted.
func (t table) noCounts() error {
	return &geofile.Error{File: t.File, Msg: fmt.Sprintf("holds %d outlines of ground and no counts", len(t.Broken)), Hint: SwapHint}
}

// Columns are the columns of a file of counts by the names that it gives them, for people
// to say what each is. Whether counts can be read from them is another question.
func Columns(from geofile.Source) ([]string, error) {
	t, err := readTable(from.Base(), from, Options{})
	return t.Header, err
}
