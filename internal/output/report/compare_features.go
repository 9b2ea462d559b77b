package report

import (
	"math"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/followup/change"
	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
)

const rateDecimals = 4

// allSteps are the steps of a field, and where there are several the one over
// all.
func allSteps(f *compare.Field) []*compare.Step {
	if f.Overall == nil {
		return f.Steps
	}
	return append(append([]*compare.Step(nil), f.Steps...), f.Overall)
}

// ChangeFeatures are what became of treat ground between visits: one MultiPolygon
// for each kind that occurs, of each step in each field; what was treated between the
// visits is told apart from what was not.
func ChangeFeatures(r *compare.Result) []geo.Feature {
	var features []geo.Feature
	for _, f := range r.Fields {
		for _, s := range allSteps(f) {
			for _, lot := range change.Lots() {
				if ground := s.Ground[lot]; len(ground) > 0 {
					features = append(features, geo.Feature{Geometry: ground, Properties: changeProperties(r, f, s, lot)})
				}
			}
		}
	}
	return features
}

func changeProperties(r *compare.Result, f *compare.Field, s *compare.Step, lot change.Lot) geo.Properties {
	area, on := s.Areas[lot.Kind]-s.Treated[lot.Kind], ""
	if lot.Treated {
		area, on = s.Treated[lot.Kind], strings.Join(s.TreatedOn, ", ")
	}
	return geo.Properties{
		{Name: "change", Value: lot.Kind.String()},
		{Name: "treated", Value: lot.Treated},
		{Name: "treated_on", Value: on},
		{Name: "field", Value: f.Name},
		{Name: "from", Value: f.Visits[s.From].Date},
		{Name: "to", Value: f.Visits[s.To].Date},
		{Name: "pest", Value: r.Pest},
		{Name: "unit", Value: r.Statistic.String()},
		{Name: "threshold", Value: f.Levels().TreatAt},
		{Name: "area_ha", Value: figures.Rounded(figures.Hectares(area), areaDecimals)},
		{Name: "area_ac", Value: figures.Rounded(figures.Acres(area), areaDecimals)},
		{Name: "stands_out", Value: s.Change.StandsOut},
		{Name: "growth_from", Value: s.Basis.String()},
	}
}

// HotspotFeatures are the treat patches of every visit with the number that they
// keep. A patch that shares its visit's map with others is written by itself, so
// its vertices are rounded by themselves.
func HotspotFeatures(r *compare.Result) []geo.Feature {
	var features []geo.Feature
	for _, f := range r.Fields {
		for visit, patches := range f.Tracks.Patches {
			for _, p := range patches {
				polygon := f.Frame.InversePolygons(orb.MultiPolygon{p.Polygon})[0]
				features = append(features, geo.Feature{Geometry: polygon, Properties: hotspotProperties(f, visit, p)})
			}
		}
	}
	return features
}

func hotspotProperties(f *compare.Field, visit int, p change.Patch) geo.Properties {
	centre := f.Frame.Inverse(p.Centroid)
	out := geo.Properties{
		{Name: "hotspot", Value: int64(p.ID)},
		{Name: "field", Value: f.Name},
		{Name: "date", Value: f.Visits[visit].Date},
		{Name: "area_ha", Value: figures.Rounded(figures.Hectares(p.Area), areaDecimals)},
		{Name: "area_ac", Value: figures.Rounded(figures.Acres(p.Area), areaDecimals)},
		{Name: "mean", Value: property(p.Mean, countDecimals)},
		{Name: "longitude", Value: figures.Rounded(centre[0], 7)},
		{Name: "latitude", Value: figures.Rounded(centre[1], 7)},
	}
	event, metres, bearing, rate := "first seen", math.NaN(), math.NaN(), math.NaN()
	for _, s := range f.Tracks.Steps {
		if s.ID == p.ID && s.To == visit {
			event, metres, bearing, rate = string(s.Event), s.Metres, s.Bearing, s.AreaRate
		}
	}
	return append(out,
		geo.Property{Name: "event", Value: event},
		geo.Property{Name: "moved_m", Value: property(metres, 1)},
		geo.Property{Name: "bearing", Value: property(bearing, 1)},
		geo.Property{Name: "area_growth_per_day", Value: property(rate, rateDecimals)},
	)
}

// ForecastFeatures are the zones that are to be expected; every one says that it
// is a forecast.
func ForecastFeatures(r *compare.Result) []geo.Feature {
	var features []geo.Feature
	for _, f := range r.Fields {
		if f.Forecast == nil {
			continue
		}
		for _, z := range f.Forecast.Visit.Map.Zones {
			if ground := f.Forecast.Ground[z.Class]; len(ground) > 0 {
				features = append(features, geo.Feature{Geometry: ground, Properties: forecastProperties(r, f, z)})
			}
		}
	}
	return features
}

func forecastProperties(r *compare.Result, f *compare.Field, z zones.Zone) geo.Properties {
	return geo.Properties{
		{Name: "zone", Value: z.Class.String()},
		{Name: "forecast", Value: true},
		{Name: "field", Value: f.Name},
		{Name: "date", Value: f.Forecast.Date},
		{Name: "made_from", Value: f.Visits[len(f.Visits)-1].Date},
		{Name: "pest", Value: r.Pest},
		{Name: "unit", Value: r.Statistic.String()},
		{Name: "growth_per_day", Value: property(f.Next.Rate, rateDecimals)},
		{Name: "growth_from", Value: f.Next.Basis.String()},
		{Name: "area_ha", Value: figures.Rounded(figures.Hectares(z.Area), areaDecimals)},
		{Name: "area_ac", Value: figures.Rounded(figures.Acres(z.Area), areaDecimals)},
		{Name: "share", Value: figures.Rounded(f.Forecast.Visit.Map.Share(z.Class), shareDecimals)},
		{Name: "mean", Value: property(z.Mean, countDecimals)},
		{Name: "threshold", Value: f.Levels().TreatAt},
		{Name: "caution", Value: ForecastText(*f.Forecast)},
	}
}
