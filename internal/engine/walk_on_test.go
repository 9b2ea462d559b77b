package engine_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/engine"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// Who walks the stops that an answer asks for, as they are planned for it, gets a decision or
// is asked for fewer: they fill the ground without any, and are of the sample of the field.
func TestTheWalkThatIsAskedForMovesTheAnswerOn(t *testing.T) {
	slope := func(x, y float64) float64 { return x / 5 }
	patch := func(x, y float64) float64 {
		return 1 + 120*math.Exp(-(math.Pow(x-300, 2)+math.Pow(y-450, 2))/(2*80*80))
	}
	none := func(x, y float64) float64 { return 0 }
	road := func(n int) (at [][2]float64) {
		for i := range n {
			at = append(at, [2]float64{400 * (float64(i) + 0.5) / float64(n), 20})
		}
		return at
	}
	side := func(n int) (at [][2]float64) {
		for i := range n {
			at = append(at, [2]float64{110, 600 * (float64(i) + 0.5) / float64(n)})
		}
		return at
	}
	for name, c := range map[string]struct {
		truth func(x, y float64) float64
		at    [][2]float64
		line  string
	}{
		"few, a slope":          {slope, [][2]float64{{90, 80}, {310, 130}, {200, 300}, {80, 500}, {320, 520}}, "few-for-a-map"},
		"few, a patch":          {patch, [][2]float64{{90, 80}, {310, 130}, {200, 300}, {80, 500}, {320, 420}, {100, 200}}, "few-for-a-map"},
		"along the road, none":  {none, road(20), "part-only"},
		"along the road, patch": {patch, road(12), "part-only"},
		"down one side, none":   {none, side(14), "unscouted-much"},
	} {
		t.Run(name, func(t *testing.T) {
			boundary, counts := lattice(0, 0)
			counts.Content = []byte("stop,longitude,latitude,count,leaves,date,kind\n")
			add := func(stop string, x, y float64, kind string) {
				counts.Content = fmt.Appendf(counts.Content, "%s,%.9f,%.9f,%.0f,10,2026-07-15,%s\n", stop, x/metresPerDegree, y/metresPerDegree, 10*c.truth(x, y), kind)
			}
			for i, at := range c.at {
				add(fmt.Sprint(i+1), at[0], at[1], "")
			}
			asked := math.MaxInt
			for round := range 4 {
				made, err := engine.Map(t.Context(), engine.MapRequest{Setup: engine.Setup{Settings: engine.Defaults()}, Samples: []engine.Source{counts}, Boundary: boundary})
				require.NoError(t, err)
				v := made.Verdicts[0]
				if round == 0 {
					require.Equal(t, c.line, v.Line)
				}
				if v.Kind != verdict.Undecided {
					return
				}
				if v.Fill {
					require.Less(t, v.More, asked, "%s asks for as many again", v.Line)
					asked = v.More
				}
				q := walkOf("Field")
				q.Boundary, q.Add = boundary, v.More
				q.After = &engine.PlanAfter{
					Name:    "out",
					Summary: engine.Source{Name: "summary.json", Content: content(t, made.Files, "summary.json")},
					Stops:   engine.Source{Name: "stops.geojson", Content: content(t, made.Files, "stops.geojson")},
				}
				walk, err := engine.Plan(q)
				require.NoError(t, err)
				for _, s := range walk.Plan.Stops {
					x, y := s.Lonlat[0]*metresPerDegree, s.Lonlat[1]*metresPerDegree
					near := math.Inf(1)
					for _, at := range c.at {
						near = min(near, math.Hypot(x-at[0], y-at[1]))
					}
					kind := "extra"
					if v.Fill {
						kind = "planned"
						assert.Equal(t, "on the ground farthest from any stop, as the map asks", walk.Plan.Why)
						assert.Greater(t, near, 50.0, "%s stands beside one that was walked", s.Name)
					}
					assert.Equal(t, kind == "extra", s.Extra)
					assert.NotContains(t, string(counts.Content), "\n"+s.Name+",", "a name of before")
					add(s.Name, x, y, kind)
				}
			}
			t.Error("walked three times, and still not decided")
		})
	}
}
