package assess

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/scouting/layout"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/shares"
)

// A Locator tells where positions lie among fields.
type Locator struct{ index index }

// NewLocator makes a locator of fields.
func NewLocator(fields []geo.Field) (*Locator, error) {
	sites := make([]site, len(fields))
	for i, f := range fields {
		var err error
		if sites[i], err = newSite(f); err != nil {
			return nil, fmt.Errorf("field %q: %w", f.Name, err)
		}
	}
	return &Locator{newIndex(sites)}, nil
}

// Near reports whether a position lies in a field or within 15 m of one.
func (l *Locator) Near(longitude, latitude float64) bool {
	return l.index.find(orb.Point{longitude, latitude}).field >= 0
}

// FieldAt is the number of the field that a stop at a position is of, among those that the
// locator was made of; -1 for none.
func (l *Locator) FieldAt(longitude, latitude float64) int {
	return l.index.find(orb.Point{longitude, latitude}).field
}

// positionFault is a fault that positions have in practice, and how to fix it.
type positionFault struct {
	name, what string
	apply      func(lon, lat float64) (float64, float64)
}

// positionFixes are tried in this order: the first that puts a position into a field
// is offered.
var positionFixes = []positionFault{
	{"swap", "latitude and longitude are swapped", func(lon, lat float64) (float64, float64) { return lat, lon }},
	{"sign", "the longitude has lost its sign", func(lon, lat float64) (float64, float64) { return -lon, lat }},
	{"sign", "the latitude has lost its sign", func(lon, lat float64) (float64, float64) { return lon, -lat }},
	{"sign", "longitude and latitude have lost their signs", func(lon, lat float64) (float64, float64) { return -lon, -lat }},
	{"minutes", "minutes were written as decimals of a degree", func(lon, lat float64) (float64, float64) { return fromMinutes(lon), fromMinutes(lat) }},
}

// fromMinutes reads 35.5412 as 35 degrees and 54.12 minutes.
func fromMinutes(v float64) float64 {
	whole, part := math.Modf(v)
	return whole + part*100/60
}

// PositionFixes are the names of the fixes of positions that can be asked for.
func PositionFixes() []string {
	var names []string
	for _, m := range positionFixes {
		if !slices.Contains(names, m.name) {
			names = append(names, m.name)
		}
	}
	return names
}

// FixPositions returns what to offer for positions far from every field: the first
// fix that puts them into one. It is applied only where its name is among
// those asked for.
func (l *Locator) FixPositions(asked []string) (survey.FixPosition, error) {
	for _, name := range asked {
		if !slices.Contains(PositionFixes(), name) {
			return nil, fmt.Errorf("no fix of positions is called %q: want %s", name, strings.Join(PositionFixes(), ", "))
		}
	}
	return func(lon, lat float64) (survey.PositionFix, bool) {
		if l.Near(lon, lat) {
			return survey.PositionFix{}, false
		}
		for _, m := range positionFixes {
			if x, y := m.apply(lon, lat); l.Near(x, y) {
				return survey.PositionFix{
					Longitude: x, Latitude: y, What: m.what, Fix: "give --fix " + m.name + " to read it so, or correct the file",
					Apply: slices.Contains(asked, m.name),
				}, true
			}
		}
		return survey.PositionFix{}, false
	}, nil
}

// Placed are the stops of one field with where they lie in it.
type Placed struct {
	Field   string
	Stops   []survey.Stop // may be those that were given, and may not be changed
	Extra   []bool        // of each, as it is marked; who finds more of them extra notes it here
	Outside []float64     // metres outside the boundary; 0 inside
	ToEdge  []float64     // metres to the nearest edge
	ground  orb.MultiPolygon
	at      [][2]float64
}

// HasInside reports whether the field has ground a strip of so many metres from its edges.
func (p Placed) HasInside(strip float64) bool { return geo.HasInside(p.ground, strip) }

// Together are the stops that nobody marked as extra and that [Run] counts for one place.
// No level is known here: a walk round a stop is one where that has no less than the mean.
func (p Placed) Together() []Together {
	stops := make([]stood, len(p.Stops))
	var sum float64
	for i := range p.Stops {
		stops[i] = stoodOf(&p.Stops[i], p.at[i], p.Stops[i].Mean())
		stops[i].extra = p.Extra[i]
		sum += stops[i].value
	}
	return standTogether(geo.Area(p.ground), sum/float64(len(stops)), stops)
}

// Layout is how the planned stops lie over the field, as [Field.Layout]; none where there
// are no stops.
func (p Placed) Layout() layout.Layout {
	if len(p.at) == 0 {
		return layout.Layout{}
	}
	var of [][2]float64
	for i, at := range p.at {
		if !p.Extra[i] {
			of = append(of, at)
		}
	}
	if len(of) == 0 {
		of = p.at
	}
	return LatticeOf(p.ground).Of(of)
}

// Place gives stops to their fields as [Run] does; away are those in none.
func Place(fields []geo.Field, stops []survey.Stop) (placed []Placed, away []survey.Stop, err error) {
	l, err := NewLocator(fields)
	if err != nil {
		return nil, nil, err
	}
	placed = make([]Placed, len(fields))
	found := l.index.findAll(len(stops), func(i int) *survey.Stop { return &stops[i] })
	of, at := make([]int, len(fields)), make([]int, len(stops)) // how many stops each has, and the number of each among them
	for i, f := range found {
		if f.field < 0 {
			away = append(away, stops[i])
			continue
		}
		at[i] = of[f.field]
		of[f.field]++
	}
	edges := make([]*geo.EdgeIndex, len(fields))
	for i, f := range fields {
		placed[i] = Placed{
			Field: f.Name, ground: l.index.sites[i].xy, Extra: make([]bool, of[i]),
			Outside: make([]float64, of[i]), ToEdge: make([]float64, of[i]), at: make([][2]float64, of[i]),
		}
		if of[i] < len(stops) {
			placed[i].Stops = make([]survey.Stop, of[i])
		} else {
			placed[i].Stops = stops[:len(stops):len(stops)]
		}
		if of[i] > 0 {
			edges[i] = geo.NewEdgeIndex(placed[i].ground)
		}
	}
	shares.Of(len(stops), leastShare, func(from, to int) {
		for i := from; i < to; i++ {
			f, n, s := found[i].field, at[i], &stops[i]
			if f < 0 {
				continue
			}
			p := &placed[f]
			if of[f] < len(stops) {
				p.Stops[n] = *s
			}
			p.Extra[n], p.Outside[n] = s.Extra, found[i].outside
			p.at[n] = l.index.sites[f].frame.Forward(orb.Point{s.Longitude, s.Latitude})
			p.ToEdge[n] = edges[f].Distance(p.at[n])
		}
	})
	return placed, away, nil
}
