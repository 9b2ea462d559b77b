package handoff

import (
	"math"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// Properties have names of ten small letters, digits and underscores at the
// most, which every format can hold. Areas are in hectares and acres, lengths in
// metres. counted is the day of the count and spray_on the planned day, where there
// is one; none is called date, which would be the day when it was sprayed.

// Ground is the ground to spray, a MultiPolygon for each job.
func (r *Result) Ground() (out []geo.Feature) {
	for _, j := range r.Jobs {
		out = append(out, geo.Feature{
			Geometry:   j.lonlat(j.Ground.Spray),
			Properties: append(j.properties("ground"), areas(geo.Area(j.Ground.Spray))...),
		})
	}
	return out
}

// Swaths are what is really sprayed, see [Job.Swaths], for machines that cannot take
// curved zones. Spots where nothing could be sprayed give none.
func (r *Result) Swaths() (out []geo.Feature) {
	for _, j := range r.Jobs {
		if swaths := j.Swaths(); len(swaths) > 0 {
			out = append(out, geo.Feature{
				Geometry:   j.lonlat(swaths),
				Properties: append(j.properties("swath"), areas(j.Figures().Sprayed)...),
			})
		}
	}
	return out
}

// Passes are lines, from the first on to the last off, in driving order.
func (r *Result) Passes() (out []geo.Feature) {
	for _, j := range r.Jobs {
		for _, pass := range j.Plan.Passes {
			out = append(out, j.line("pass", pass))
		}
	}
	return out
}

// ABLines are the A–B line of each job: a line to go by, and no pass.
func (r *Result) ABLines() (out []geo.Feature) {
	for _, j := range r.Jobs {
		out = append(out, geo.Feature{
			Geometry:   orb.LineString{j.place(j.Plan.A), j.place(j.Plan.B)},
			Properties: append(j.properties("ab_line"), geo.Property{Name: "heading", Value: rounded(j.Plan.Heading, 3)}),
		})
	}
	return out
}

func (j *Job) line(kind string, p spray.Pass) geo.Feature {
	return geo.Feature{
		Geometry: orb.LineString{j.place(p.From), j.place(p.To)},
		Properties: append(j.properties(kind),
			geo.Property{Name: "pass", Value: int64(p.Number)},
			geo.Property{Name: "heading", Value: rounded(j.Plan.Heading, 3)},
			geo.Property{Name: "on_m", Value: rounded(p.On, 2)},
			geo.Property{Name: "off_m", Value: rounded(p.Off, 2)},
		),
	}
}

// Switches are the places where the boom goes on or off, in driving order, each
// where the switch is to be thrown; at_lon and at_lat tell where the spray begins
// or ends.
func (r *Result) Switches() (out []geo.Feature) {
	for _, j := range r.Jobs {
		for _, pass := range j.Plan.Passes {
			for _, s := range pass.Switches {
				at := j.place(s.At)
				out = append(out, geo.Feature{
					Geometry: j.place(s.Thrown),
					Properties: append(j.properties("switch"),
						geo.Property{Name: "pass", Value: int64(pass.Number)},
						geo.Property{Name: "on", Value: s.On},
						geo.Property{Name: "at_lon", Value: rounded(at[0], 7)},
						geo.Property{Name: "at_lat", Value: rounded(at[1], 7)},
					),
				})
			}
		}
	}
	return out
}

// Left is spray ground that stays unsprayed: the pieces that no section can do, or in one
// feature what lies beside the cells or the simplified outlines that are sprayed.
func (r *Result) Left() (out []geo.Feature) {
	for _, j := range r.Jobs {
		if left, why, along := j.leftAlong(); along {
			if area := geo.Area(left); area > leastLeft {
				out = append(out, j.left(left, area, why))
			}
			continue
		}
		for _, rest := range j.Plan.Cover.Untreatable {
			out = append(out, j.left(orb.MultiPolygon{rest.Ground}, rest.Area, Reason(rest)))
		}
	}
	return out
}

// leastLeft is the least ground, m², that is told to stay unsprayed.
const leastLeft = 1

func (j *Job) left(ground orb.MultiPolygon, area float64, why string) geo.Feature {
	return geo.Feature{Geometry: j.lonlat(ground), Properties: append(append(j.properties("left"), areas(area)...), geo.Property{Name: "reason", Value: why})}
}

// leftAlong is what stays unsprayed all along cells or simplified outlines, and why; ok is
// false where it is places that no section can do.
func (j *Job) leftAlong() (left orb.MultiPolygon, why string, ok bool) {
	switch {
	case j.Grid != nil:
		return j.Grid.Left, "no cell that is on lies there", true
	case j.Simplified():
		return j.Fewer.Left, "beside outlines drawn with few points, or no whole section passes", true
	}
	return nil, "", false
}

// Reason tells why ground is left.
func Reason(r spray.Remnant) string {
	switch r.Why {
	case spray.TooShort:
		return "too short for the boom to switch"
	case spray.NoWay:
		return "the middle of the boom would lie over a hole of the field, a gap between its parts or another field"
	}
	return "no whole section passes without reaching closed ground or past a limit at the edge"
}

// KeptOff is the closed ground: keep-offs with their set-backs, holes of the fields,
// and gaps between their parts.
func (r *Result) KeptOff() (out []geo.Feature) {
	for _, j := range r.Jobs {
		if len(j.Ground.Kept) > 0 {
			out = append(out, geo.Feature{
				Geometry:   j.lonlat(j.Ground.Kept),
				Properties: append(j.properties("keep_off"), areas(geo.Area(j.Ground.Kept))...),
			})
		}
	}
	return out
}

// Boundaries are the fields.
func (r *Result) Boundaries() (out []geo.Feature) {
	for _, j := range r.Jobs {
		out = append(out, geo.Feature{Geometry: j.lonlat(j.Ground.Field), Properties: append(j.properties("field"), areas(geo.Area(j.Ground.Field))...)})
	}
	return out
}

func (j *Job) properties(kind string) geo.Properties {
	p := geo.Properties{
		{Name: "kind", Value: kind}, {Name: "field", Value: j.Field}, {Name: "counted", Value: j.Date}, {Name: "pest", Value: j.Pest},
	}
	if j.Advice.Known() {
		p = append(p, geo.Property{Name: "verdict", Value: j.Advice.Verdict})
	}
	if j.SprayOn != "" {
		p = append(p, geo.Property{Name: "spray_on", Value: j.SprayOn})
	}
	return p
}

func areas(m2 float64) geo.Properties {
	return geo.Properties{
		{Name: "area_ha", Value: rounded(m2/geo.SquareMetresPerHectare, 4)},
		{Name: "area_ac", Value: rounded(m2/geo.SquareMetresPerAcre, 4)},
	}
}

func (j *Job) place(p orb.Point) orb.Point { return j.Frame.Inverse(p) }

func (j *Job) lonlat(mp orb.MultiPolygon) orb.MultiPolygon { return j.Frame.InversePolygons(mp) }

// rounded keeps a number of decimals.
func rounded(v float64, decimals int) float64 {
	scale := math.Pow10(decimals)
	return math.Round(v*scale)/scale + 0
}
