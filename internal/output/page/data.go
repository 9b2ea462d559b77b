package page

import (
	"math"
	"strings"

	"github.com/paulmach/orb"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/output/scene"
)

// fieldData is what the behaviour needs to know of a field.
type fieldData struct {
	Stops  []stopData        `json:"stops"`
	Zones  map[string]string `json:"zones"`
	Centre [2]float64        `json:"centre"` // of the frame, degrees
	Affine [6]float64        `json:"affine"` // see affine
	Unit   string            `json:"unit"`   // of the scale bar
	PerMM  float64           `json:"perMM"`  // such units in a millimetre of the map
}

// stopData is a stop as it is shown when it is tapped.
type stopData struct {
	Name    string  `json:"name"`
	X       float64 `json:"x"` // on the map, mm
	Y       float64 `json:"y"`
	R       float64 `json:"r"`
	Value   string  `json:"value"`
	Count   string  `json:"count"`
	Units   string  `json:"units"`
	Zone    string  `json:"zone"`
	LeftOut string  `json:"leftOut"`
	More    string  `json:"more"` // date, observer, distance outside
}

// dataOf is what is known of a field before its stops.
func dataOf(s scene.Subject, p scene.Plot, u figures.Units) fieldData {
	d := fieldData{Zones: map[string]string{}, Centre: s.Ground.Frame.Centre(), Affine: affine(s, p), Unit: "m", PerMM: millionths(1 / p.Scale)}
	if u.InUS() {
		d.Unit, d.PerMM = "ft", d.PerMM/geo.MetresPerFoot
	}
	for _, z := range s.Field.Map.Zones {
		d.Zones[z.Class.String()] = report.LegendOf(z.Class, s.Verdict, u) + ": " + scene.Figures(s, z, u)
	}
	return d
}

func stopOf(r *assess.Result, s assess.Stop, u figures.Units) stopData {
	d := stopData{Name: s.Name, Value: report.Levelled(s.Value, r.Levels.Levels), Count: countOf(s), Units: figures.Short(s.Units * float64(s.Of().Size)), LeftOut: report.Levelled(s.LeftOut, r.Levels.Levels)}
	if s.Zone != zones.NoData {
		d.Zone = report.ShownZone(s.Zone, u)
	}
	var more []string
	for _, text := range []string{strings.TrimSpace(s.Date + " " + s.Time), s.Observer} {
		if text != "" {
			more = append(more, text)
		}
	}
	if s.Outside > 0 {
		more = append(more, u.Say("%s outside", u.Distance(s.Outside)))
	}
	d.More = strings.Join(more, ", ")
	return d
}

// affine takes degrees east and north of the field's centre to the map:
// x = a + b·e + c·e·n, y = d + f·n + g·e², which follows the frame of a field a
// few km wide to some decimetres. The order is a, b, c, d, f, g.
func affine(s scene.Subject, p scene.Plot) [6]float64 {
	const h = 0.005 // degrees
	c := s.Ground.Frame.Centre()
	at := func(e, n float64) scene.Point { return p.Point(s.Ground.Frame.Forward(orb.Point{c[0] + e, c[1] + n})) }
	o := at(0, 0)
	b := (at(h, 0).X - o.X) / h
	cross := ((at(h, h).X-o.X)/h - b) / h
	north := (at(0, h).Y - at(0, -h).Y) / (2 * h)
	bend := (at(h, 0).Y - o.Y) / (h * h)
	all := [6]float64{o.X, b, cross, o.Y, north, bend}
	for i, v := range all {
		all[i] = millionths(v)
	}
	return all
}

// millionths rounds a number for the page's script: further digits are the processor's.
func millionths(v float64) float64 { return math.Round(v*1e6) / 1e6 }

// countOf is what was counted at a stop, a dash where only plants were looked at.
func countOf(s assess.Stop) string {
	if math.IsNaN(s.Total) {
		return "–"
	}
	return figures.Short(s.Total)
}
