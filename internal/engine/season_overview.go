//go:build !small

package engine

import (
	"cmp"
	"slices"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/followup/season"
)

// A SeasonLooker is a season that shows at once what was kept of its maps.
type SeasonLooker interface {
	SeasonReader
	KeptZones() (map[int64][]season.Zone, error)  // by the numbers of visits
	KeptStops() (map[int64]map[string]int, error) // likewise, by fields
}

// A SeasonField is a field of a season with what was kept of its visits.
type SeasonField struct {
	geo.Field
	Visits []SeasonVisit // by their days; none where nobody was there
}

// A SeasonVisit is what was kept of a visit to a field.
type SeasonVisit struct {
	ID    int64
	Date  string
	Stops int
	Areas map[string]float64 // hectares, by zone
	Zones []season.Zone
}

// Last is the last visit; nil where nobody was there.
func (f SeasonField) Last() *SeasonVisit {
	if len(f.Visits) == 0 {
		return nil
	}
	return &f.Visits[len(f.Visits)-1]
}

// share is the part of a visit's ground in a zone.
func (v *SeasonVisit) share(zone string) float64 {
	all := 0.0
	for _, a := range v.Areas {
		all += a
	}
	if all == 0 {
		return 0
	}
	return v.Areas[zone] / all
}

// OverviewOfSeason are the fields of a season, those first whose last map has the most of
// its ground to treat, then to watch. It works nothing out: what it shows is what was
// found when the visits were added. A field that was renamed stands there once, by its last
// name.
func OverviewOfSeason(s SeasonLooker) ([]SeasonField, error) {
	fields, err := s.Fields()
	if err != nil {
		return nil, err
	}
	last, err := lastNames(s, fields)
	if err != nil {
		return nil, err
	}
	var all []SeasonField
	at := map[string]int{}
	for _, f := range fields {
		if last[f.Name] == "" {
			at[f.Name] = len(all)
			all = append(all, SeasonField{Field: f})
		}
	}
	for before, name := range last {
		at[before] = at[name]
	}
	lines, err := s.List()
	if err != nil {
		return nil, err
	}
	zones, err := s.KeptZones()
	if err != nil {
		return nil, err
	}
	stops, err := s.KeptStops()
	if err != nil {
		return nil, err
	}
	for _, l := range lines {
		for name, v := range visitsTo(l, zones[l.ID], stops[l.ID]) {
			if i, ok := at[name]; ok {
				all[i].Visits = append(all[i].Visits, v)
			}
		}
	}
	slices.SortStableFunc(all, func(a, b SeasonField) int {
		x, y := lastOf(a), lastOf(b)
		return cmp.Or(cmp.Compare(y.share("treat"), x.share("treat")), cmp.Compare(y.share("watch"), x.share("watch")))
	})
	return all, nil
}

func lastOf(f SeasonField) *SeasonVisit {
	if last := f.Last(); last != nil {
		return last
	}
	return &SeasonVisit{}
}

// visitsTo are what was kept of a visit, by its fields.
func visitsTo(l season.Line, zones []season.Zone, stops map[string]int) map[string]SeasonVisit {
	visits := map[string]SeasonVisit{}
	for name, n := range stops {
		visits[name] = SeasonVisit{ID: l.ID, Date: l.Date, Stops: n, Areas: map[string]float64{}}
	}
	for _, z := range zones {
		v, ok := visits[z.Field]
		if !ok {
			continue // a field without stops was not visited
		}
		v.Areas[z.Zone] += z.Hectares
		v.Zones = append(v.Zones, z)
		visits[z.Field] = v
	}
	return visits
}

// aside in degrees is far enough that no stop beyond it counts for a field: 15 m, which are
// 0.0008 degrees of longitude at 80° north.
const aside = 0.001

// Narrowed is a season that shows of its fields one, and those near enough that a stop
// might belong to either. What is said of the field is what the whole season says of it.
func Narrowed(s SeasonReader, field string) (SeasonReader, error) {
	fields, err := s.Fields()
	if err != nil {
		return nil, err
	}
	return narrowed{s, nearTo(fields, field)}, nil
}

type narrowed struct {
	SeasonReader
	fields []geo.Field
}

func (n narrowed) Fields() ([]geo.Field, error) { return n.fields, nil }

func (n narrowed) Visit(id int64) (season.Visit, error) {
	v, err := n.SeasonReader.Visit(id)
	v.Fields = slices.DeleteFunc(v.Fields, func(f geo.Field) bool {
		return !slices.ContainsFunc(n.fields, func(near geo.Field) bool { return near.Name == f.Name })
	})
	return v, err
}

// nearTo are a field of a name and those near it.
func nearTo(fields []geo.Field, name string) (near []geo.Field) {
	for _, f := range fields {
		if f.Name != name {
			continue
		}
		around := f.Boundary.Bound().Pad(aside)
		for _, other := range fields {
			if other.Boundary.Bound().Intersects(around) {
				near = append(near, other)
			}
		}
	}
	return near
}
