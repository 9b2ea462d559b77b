//go:build !small

package survey

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo/geofile"
)

// DefaultTrackGap is how far apart in time two points of a track may be for a place between
// them to be told: at a walk of 1 m/s that is 300 m. Our choice, no source.
const DefaultTrackGap = 5.0 // minutes

// Places are where stops are, for counts that do not tell it: by the names of stops, and by
// the time along tracks.
type Places struct {
	File   string
	names  []string // in their order
	named  map[string]orb.Point
	twice  map[string]bool
	tracks [][]geofile.Fix
	Gap    float64 // minutes; 0 is [DefaultTrackGap]
	Offset string  // of clocks ahead of UTC, such as -05:00; "" is not known
}

// ReadPlaces reads named points, of a feature file or of a table with stop, longitude and
// latitude, and the tracks of GPX.
func ReadPlaces(from geofile.Source) (*Places, error) {
	p := &Places{File: from.Base(), named: map[string]orb.Point{}, twice: map[string]bool{}}
	var err error
	if from.Beside != nil || geofile.IsFeatures(from.Content) {
		err = p.features(from)
	} else {
		err = p.table(from)
	}
	if err == nil && len(p.names) == 0 && !slices.ContainsFunc(p.tracks, func(t []geofile.Fix) bool { return len(t) > 1 }) {
		err = fmt.Errorf("%s: names no place and holds no track with times", p.File)
	}
	return p, err
}

func (p *Places) features(from geofile.Source) error {
	c, err := geofile.DecodeSource(from, geofile.Limits{})
	if err != nil {
		return err
	}
	properties, err := propertyNames(c.Features, Limits{}.withDefaults().Columns)
	if err != nil {
		return err
	}
	for _, f := range c.Features {
		at, ok := pointIn(f.Geometry)
		if name := stopOf(f, properties); ok && name != "" {
			p.add(name, at)
		}
	}
	p.tracks, err = geofile.Tracks(from, geofile.Limits{})
	return err
}

func (p *Places) table(from geofile.Source) error {
	cells, err := ReadCells(from)
	if err != nil {
		return err
	}
	var at [3]int
	for i, c := range []column{colStop, colLongitude, colLatitude} {
		if at[i] = cells.Column(c.names()...); at[i] < 0 {
			return fmt.Errorf("%s: has no column %s: want stop, longitude, latitude", p.File, c)
		}
	}
	for _, row := range cells.Rows {
		var lonlat orb.Point
		for axis, limit := range []float64{180, 90} {
			text := row.At(at[1+axis])
			v, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
			if err != nil || !(v >= -limit && v <= limit) {
				return fmt.Errorf("%s:%d: %q: want degrees with decimals", p.File, row.Line, text)
			}
			lonlat[axis] = v
		}
		if name := row.At(at[0]); name != "" {
			p.add(name, lonlat)
		}
	}
	return nil
}

func (p *Places) add(name string, at orb.Point) {
	key := placeKey(name)
	if was, known := p.named[key]; known {
		p.twice[key] = p.twice[key] || was != at
		return
	}
	p.names = append(p.names, name)
	p.named[key] = at
}

// placeKey folds a name: case, spaces, and noughts before a number do not count.
func placeKey(name string) string {
	key := NameKey(name)
	if n, err := strconv.Atoi(key); err == nil {
		return strconv.Itoa(n)
	}
	return key
}

// severalTracks is why a row has no place where tracks differ.
const severalTracks = "several tracks at that time"

// between is where the tracks were at a moment; why says why it cannot be told. Where several
// were on their way then, nothing says whose count it is, so they must have been within
// [apart]. A track with a gap then counts as straight through it.
func (p *Places) between(at time.Time) (lonlat orb.Point, why string) {
	gap := p.Gap
	if gap == 0 {
		gap = DefaultTrackGap
	}
	why = "before or after the track"
	var all []orb.Point
	for _, t := range p.tracks {
		for i := 1; i < len(t); i++ {
			a, b := t[i-1], t[i]
			if at.Before(a.At) || at.After(b.At) {
				continue
			}
			all = append(all, along(a, b, at))
			switch span := b.At.Sub(a.At); {
			case why == "":
			case span.Minutes() > gap:
				why = fmt.Sprintf("in a gap of %d minutes of the track", int(span.Minutes()+0.5))
			default:
				lonlat, why = all[len(all)-1], ""
			}
		}
	}
	if far := farthest(all); far > apart {
		return orb.Point{}, fmt.Sprintf(severalTracks+", %.0f m apart", far)
	}
	return lonlat, why
}

// along is where a track was at a moment between two of its points.
func along(a, b geofile.Fix, at time.Time) orb.Point {
	part := 0.0
	if span := b.At.Sub(a.At); span > 0 {
		part = float64(at.Sub(a.At)) / float64(span)
	}
	return orb.Point{a.LonLat[0] + float64(part*(b.LonLat[0]-a.LonLat[0])), a.LonLat[1] + float64(part*(b.LonLat[1]-a.LonLat[1]))}
}

// farthest is how far in metres any of some points lies from the first, 0 for none.
func farthest(points []orb.Point) (metres float64) {
	for _, p := range points {
		first, other := Record{Longitude: points[0][0], Latitude: points[0][1]}, Record{Longitude: p[0], Latitude: p[1]}
		metres = max(metres, pointOf(&first).distance(pointOf(&other)))
	}
	return metres
}
