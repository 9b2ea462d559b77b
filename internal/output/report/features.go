package report

import (
	"iter"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
)

// ZoneFeatures are the zones of all fields, worst first in each: one feature for
// each zone that occurs, a MultiPolygon. A zone too thin to survive rounding to
// seven decimals is left out.
func ZoneFeatures(r *assess.Result) []geo.Feature { return slices.Collect(EachZone(r)) }

// EachZone are those of [ZoneFeatures], made one field after the other.
func EachZone(r *assess.Result) iter.Seq[geo.Feature] {
	told := ownersOf(r)
	return eachField(r, func(f *assess.Field) []geo.Feature { return zonesOf(r, f, told) })
}

// eachField is one field's features after the other's.
func eachField(r *assess.Result, of func(*assess.Field) []geo.Feature) iter.Seq[geo.Feature] {
	return func(yield func(geo.Feature) bool) {
		for _, f := range r.Fields {
			for _, feature := range of(f) {
				if !yield(feature) {
					return
				}
			}
		}
	}
}

func zonesOf(r *assess.Result, f *assess.Field, told owners) (features []geo.Feature) {
	if !f.Scouted() {
		return nil
	}
	of, ground := r.Of(f), f.LonLat()
	for _, z := range f.Map.Zones {
		if ground := ground[z.Class]; len(ground) > 0 {
			features = append(features, geo.Feature{Geometry: ground, Properties: append(zoneProperties(of, f, z), told.of(f)...)})
		}
	}
	return features
}

// NoneReadFeatures are the fields of which no stop was read: all of each is watch, as is
// all ground that is too far from any stop, so that who takes the zones meets them.
func NoneReadFeatures(r *assess.Result) []geo.Feature { return slices.Collect(EachNoneRead(r)) }

// EachNoneRead are those of [NoneReadFeatures].
func EachNoneRead(r *assess.Result) iter.Seq[geo.Feature] {
	told := ownersOf(r)
	return eachField(r, func(f *assess.Field) []geo.Feature { return noneRead(r.Of(f), f, told) })
}

func noneRead(r *assess.Result, f *assess.Field, told owners) []geo.Feature {
	if !f.NoneRead() {
		return nil
	}
	return []geo.Feature{{Geometry: f.Boundary, Properties: append(geo.Properties{
		{Name: "zone", Value: zones.Watch.String()},
		{Name: "field", Value: f.Name},
		{Name: "pest", Value: r.Survey.Pest},
		{Name: "unit", Value: r.Statistic.String()},
		{Name: "area_ha", Value: figures.Rounded(figures.Hectares(f.Area), areaDecimals)},
		{Name: "area_ac", Value: figures.Rounded(figures.Acres(f.Area), areaDecimals)},
		{Name: "share", Value: 1.0},
		{Name: "stops", Value: int64(0)},
		{Name: "threshold", Value: r.Levels.TreatAt},
		{Name: "trust", Value: NoneRead},
	}, told.of(f)...)}}
}

// EachGround are the zones of each field, or the whole of one of which no stop was read, in
// the order of the fields.
func EachGround(r *assess.Result) iter.Seq[geo.Feature] {
	told := ownersOf(r)
	return eachField(r, func(f *assess.Field) []geo.Feature {
		return append(zonesOf(r, f, told), noneRead(r.Of(f), f, told)...)
	})
}

// owners are which of customer and farm the file of the fields tells of any field: all
// zones have the same properties.
type owners struct{ customers, farms bool }

func ownersOf(r *assess.Result) owners {
	return owners{
		slices.ContainsFunc(r.Fields, func(f *assess.Field) bool { return f.Customer != "" }),
		slices.ContainsFunc(r.Fields, func(f *assess.Field) bool { return f.Farm != "" }),
	}
}

func (o owners) of(f *assess.Field) (p geo.Properties) {
	if o.customers {
		p = append(p, geo.Property{Name: "customer", Value: f.Customer})
	}
	if o.farms {
		p = append(p, geo.Property{Name: "farm", Value: f.Farm})
	}
	return p
}

func zoneProperties(r *assess.Result, f *assess.Field, z zones.Zone) geo.Properties {
	return geo.Properties{
		{Name: "zone", Value: z.Class.String()},
		{Name: "field", Value: f.Name},
		{Name: "date", Value: interval(f.Days())},
		{Name: "pest", Value: r.Survey.Pest},
		{Name: "unit", Value: r.Statistic.String()},
		{Name: "area_ha", Value: figures.Rounded(figures.Hectares(z.Area), areaDecimals)},
		{Name: "area_ac", Value: figures.Rounded(figures.Acres(z.Area), areaDecimals)},
		{Name: "share", Value: figures.Rounded(f.Map.Share(z.Class), shareDecimals)},
		{Name: "mean", Value: property(z.Mean, countDecimals)},
		{Name: "max", Value: property(z.Max, countDecimals)},
		{Name: "stops", Value: int64(f.StopsIn(z.Class))},
		{Name: "cut", Value: figures.Rounded(cut(f.Settings.Levels, z.Class), countDecimals)},
		{Name: "threshold", Value: r.Levels.TreatAt},
		{Name: "trust", Value: TrustText(f.Trust)},
		{Name: "margin_m", Value: figures.Rounded(f.Settings.Margin, lengthDecimals)},
		{Name: "grown_days", Value: figures.Rounded(f.Settings.Growth.Days, lengthDecimals)},
	}
}

// cut is the value at which a zone begins.
func cut(l zones.Levels, c zones.Class) float64 {
	switch c {
	case zones.Treat:
		return l.TreatAt
	case zones.Watch:
		return l.WatchAt
	}
	return 0
}

// dates is the day of the survey, or the first and the last as an ISO 8601
// interval; "" where the samples do not tell.
func dates(r *assess.Result) string { return interval(r.Survey.Dates) }

// interval is a day, or the first and the last of several as an ISO 8601 interval; ""
// of none.
func interval(days []string) string {
	if len(days) > 1 {
		return days[0] + "/" + days[len(days)-1]
	}
	return strings.Join(days, "")
}

// UnreadFeatures are stops that may have been counted and were not read, as points where
// their rows tell the place: not_read says why, and there is no value.
func UnreadFeatures(r *assess.Result) []geo.Feature { return slices.Collect(EachUnread(r)) }

// EachUnread are those of [UnreadFeatures].
func EachUnread(r *assess.Result) iter.Seq[geo.Feature] {
	return eachField(r, func(f *assess.Field) []geo.Feature { return unreadOf(f, r.Survey.Pest) })
}

func unreadOf(f *assess.Field, pest string) (features []geo.Feature) {
	for _, u := range f.Unread {
		if !u.Placed || !u.Own {
			continue
		}
		row := u.Rows[0]
		features = append(features, geo.Feature{
			Geometry: u.LonLat,
			Properties: geo.Properties{
				{Name: "stop", Value: row.Row.Stop},
				{Name: "field", Value: f.Name},
				{Name: "date", Value: row.Row.Date},
				{Name: "pest", Value: pest},
				{Name: "not_read", Value: row.String()},
			},
		})
	}
	return features
}

// StopFeatures are the stops that went to a field, as points. The value stands
// between low and high, its bounds by classes and by the correction for observers, see
// [assess.Statistic.Bounds]: equal to it where every row was counted exactly, null where
// the rows do not tell.
func StopFeatures(r *assess.Result) []geo.Feature { return slices.Collect(EachStop(r)) }

// EachStop are those of [StopFeatures], made one after the other.
func EachStop(r *assess.Result) iter.Seq[geo.Feature] {
	return func(yield func(geo.Feature) bool) {
		for _, f := range r.Fields {
			of := stopsOf(r, f)
			for i := range f.Stops {
				if !yield(of.feature(&f.Stops[i])) {
					return
				}
			}
		}
	}
}

// fieldStops is what the features of a field's stops have in common.
type fieldStops struct {
	statistic         assess.Statistic
	field, pest, unit string
}

func stopsOf(r *assess.Result, f *assess.Field) fieldStops {
	of := r.Of(f).Statistic
	return fieldStops{of, f.Name, r.Survey.Pest, of.String()}
}

func (of fieldStops) feature(s *assess.Stop) geo.Feature {
	return geo.Feature{
		Geometry:   orb.Point{s.Longitude, s.Latitude},
		Properties: append(of.properties(s), seenProperties(of.statistic, s)...),
	}
}

func (of fieldStops) properties(s *assess.Stop) geo.Properties {
	low, high := of.statistic.Bounds(s.Stop)
	all := geo.Properties{
		{Name: "stop", Value: s.Name},
		{Name: "field", Value: of.field},
		{Name: "date", Value: s.Date},
		{Name: "time", Value: s.Time},
		{Name: "pest", Value: of.pest},
		{Name: "unit", Value: of.unit},
		{Name: "value", Value: figures.Rounded(s.Value, countDecimals)},
		{Name: "low", Value: property(low, countDecimals)},
		{Name: "high", Value: property(high, countDecimals)},
		{Name: "count", Value: property(s.Total, countDecimals)},
		{Name: "leaves", Value: figures.Rounded(s.Units, countDecimals)},
		{Name: "zone", Value: s.Zone.String()},
		{Name: "left_out", Value: property(s.LeftOut, countDecimals)},
		{Name: "outside_m", Value: figures.Rounded(s.Outside, lengthDecimals)},
		{Name: "accuracy_m", Value: property(s.Accuracy, lengthDecimals)},
		{Name: "observer", Value: s.Observer},
		{Name: "stage", Value: s.Stage},
	}
	if s.Extra {
		all = append(all, geo.Property{Name: "kind", Value: "extra"})
	}
	return all
}
