package assess

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
)

// shutNear is how far outside a field in metres what was left out of the boundary may lie and
// still make its answer doubtful: a pond across the edge, a yard beside it. Our choice, no
// source.
const shutNear = 100

// A Shut is a stop that was set aside, as it lies in what the boundary says is no field.
type Shut struct {
	Stop  string
	Value float64 // of the field's statistic
	In    string  // name of the outline, or of the field whose hole it is
	Hole  bool
}

// A ShutAt tells of a place in degrees in what it lies that is no field: an outline by its
// name, or the hole of a field.
type ShutAt func(longitude, latitude float64) (in string, hole, ok bool)

// ShutIn are the stops of the field's files, at a level or above, that were set aside since
// they lie in what was left out of the field or near it, the highest first.
func (r *Result) ShutIn(f *Field, level float64, at ShutAt) (all []Shut) {
	if at == nil || len(r.Away) == 0 {
		return nil
	}
	own := f.files()
	for _, s := range r.Away {
		value, known := r.Statistic.At(s)
		if !known || value < level || !own[s.Records[0].File] || !f.nearby(s.Longitude, s.Latitude) {
			continue
		}
		if in, hole, ok := at(s.Longitude, s.Latitude); ok {
			all = append(all, Shut{s.Name, value, in, hole})
		}
	}
	slices.SortStableFunc(all, func(a, b Shut) int { return cmp.Compare(b.Value, a.Value) })
	return all
}

// nearby reports whether a place lies within the outer outline of the field, in a hole or not,
// or no farther outside than what was left out may lie.
func (f *Field) nearby(longitude, latitude float64) bool {
	xy := f.Frame.Forward(orb.Point{longitude, latitude})
	for _, p := range f.XY {
		if len(p) > 0 && geo.Contains(orb.MultiPolygon{{p[0]}}, xy) {
			return true
		}
	}
	return geo.DistanceToEdge(f.XY, xy) <= shutNear
}
