package report

import (
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
func ZoneFeatures(r *assess.Result) []geo.Feature {
	var features []geo.Feature
	for _, f := range r.Fields {
		if !f.Scouted() {
			continue
		}
		for _, z := range f.Map.Zones {
			if ground := f.LonLat()[z.Class]; len(ground) > 0 {
				features = append(features, geo.Feature{Geometry: ground, Properties: append(zoneProperties(r.Of(f), f, z), owners(r, f)...)})
			}
		}
	}
	return features
}

// NoneReadFeatures are the fields of which no stop was read: all of each is watch, as is
// all ground that is too far from any stop, so that who takes the zones meets them.
func NoneReadFeatures(r *assess.Result) []geo.Feature {
	var features []geo.Feature
	for _, f := range r.Fields {
		if !f.NoneRead() {
			continue
		}
		whose, r := owners(r, f), r.Of(f)
		features = append(features, geo.Feature{Geometry: f.Boundary, Properties: append(geo.Properties{
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
		}, whose...)})
	}
	return features
}

// owners are customer and farm of a field, where the file of the fields tells those of
// any: all zones have the same properties.
func owners(r *assess.Result, f *assess.Field) (p geo.Properties) {
	customers := slices.ContainsFunc(r.Fields, func(f *assess.Field) bool { return f.Customer != "" })
	farms := slices.ContainsFunc(r.Fields, func(f *assess.Field) bool { return f.Farm != "" })
	if customers {
		p = append(p, geo.Property{Name: "customer", Value: f.Customer})
	}
	if farms {
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
func UnreadFeatures(r *assess.Result) []geo.Feature {
	var features []geo.Feature
	for _, f := range r.Fields {
		features = append(features, unreadOf(f, r.Survey.Pest)...)
	}
	return features
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
func StopFeatures(r *assess.Result) []geo.Feature {
	var features []geo.Feature
	for _, f := range r.Fields {
		for _, s := range f.Stops {
			features = append(features, geo.Feature{
				Geometry:   orb.Point{s.Longitude, s.Latitude},
				Properties: append(stopProperties(r.Of(f), f, s), seenProperties(r.Of(f).Statistic, s)...),
			})
		}
	}
	return features
}

func stopProperties(r *assess.Result, f *assess.Field, s assess.Stop) geo.Properties {
	low, high := r.Statistic.Bounds(s.Stop)
	all := geo.Properties{
		{Name: "stop", Value: s.Name},
		{Name: "field", Value: f.Name},
		{Name: "date", Value: s.Date},
		{Name: "time", Value: s.Time},
		{Name: "pest", Value: r.Survey.Pest},
		{Name: "unit", Value: r.Statistic.String()},
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
