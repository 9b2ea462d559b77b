package assess

import (
	"fmt"
	"slices"

	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// ByField gives level and statistic of a field by the stops that lie in it, one or more.
type ByField func(field string, stops []survey.Stop) (LevelSettings, Statistic, error)

// standard is what a field is judged by.
type standard struct {
	levels    Levels
	statistic Statistic
}

// standards are those of each field. Fields without stops have those of the first that
// has some.
func (r *Result) standards(sites []site, stops [][]Stop, set Settings) ([]standard, error) {
	of := make([]standard, len(sites))
	found := false
	for i := range sites {
		if len(stops[i]) == 0 {
			continue
		}
		levels, statistic, err := set.of(sites[i].field.Name, stops[i])
		if err != nil {
			return nil, err
		}
		of[i].statistic = statistic
		if of[i].levels, err = levelsFor(r.Survey.Pest, statistic, levels); err != nil {
			return nil, err
		}
		if !found {
			found, r.Levels, r.Statistic = true, of[i].levels, statistic
		}
	}
	for i := range sites {
		if len(stops[i]) == 0 {
			of[i] = standard{r.Levels, r.Statistic}
		}
	}
	return of, nil
}

func (s Settings) of(field string, stops []Stop) (LevelSettings, Statistic, error) {
	if s.ByField == nil {
		return s.Levels, s.Statistic, nil
	}
	bare := make([]survey.Stop, len(stops))
	for i, stop := range stops {
		bare[i] = stop.Stop
	}
	return s.ByField(field, bare)
}

// value gives each stop the value of its field's statistic. A stop that does not tell it
// stops the work: where few aphids were found a share is known anyway, so a map without
// the others would leave out the worst of them.
func value(sites []site, stops [][]Stop, of []standard) error {
	for i := range sites {
		for k := range stops[i] {
			s := &stops[i][k]
			var ok bool
			if s.Value, ok = of[i].statistic.At(s.Stop); !ok {
				return fmt.Errorf("%s:%d: %s", s.Records[0].File, s.Records[0].Line, of[i].statistic.WhyMissing(s.Stop))
			}
		}
	}
	return nil
}

// Of is the result as one of its fields is judged: with the field's own levels and
// statistic. What it was given stays as it is.
func (r *Result) Of(f *Field) *Result {
	if f.Levels == r.Levels && f.Statistic == r.Statistic || f.Levels.Levels == (zones.Levels{}) {
		return r
	}
	own := *r
	own.Levels, own.Statistic = f.Levels, f.Statistic
	return &own
}

// Several reports whether fields with stops have different levels or statistics.
func (r *Result) Several() bool {
	return slices.ContainsFunc(r.Fields, func(f *Field) bool { return f.Scouted() && r.Of(f) != r })
}
