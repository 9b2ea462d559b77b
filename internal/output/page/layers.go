package page

import (
	"fmt"
	"slices"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/output/scene"
)

// surfaces puts the surface and the chances into the map, below its boundary, and
// lists the switches.
func (f Field) surfaces(v *fieldView, m *scene.Scene, plot scene.Plot, u figures.Units) {
	var extra []scene.Layer
	believed := f.Field.Trust.Believed()
	if f.Zoned() {
		v.Legend = true
		v.Layers = append(v.Layers, layerView{scene.LayerZones, u.Text("zones"), true})
	}
	if believed {
		s := scene.Surface{Grid: f.Ground.Surface.Value, Most: f.Field.Max}
		extra = append(extra, s.Layer(scene.LayerSurface, f.Ground.XY, plot, pixels))
		v.Layers = append(v.Layers, layerView{scene.LayerSurface, u.Text("surface of counts"), false})
		v.Scale = append(v.Scale, scaleOfCounts(u.Say("surface, %s", f.Result.Statistic.In(u.Language())), s, f.Result.Levels))
	}
	if believed && f.Field.Chance != nil {
		s := scene.Surface{Grid: f.Field.Chance.Grid, Most: 1}
		extra = append(extra, s.Layer("chance", f.Ground.XY, plot, pixels/2))
		v.Layers = append(v.Layers, layerView{"chance", u.Text("chance of being over"), false})
		v.Scale = append(v.Scale, scaleOf("chance", u.Say("chance of being at or above %s", v.TreatAt), s,
			[]float64{0, 0.1, 0.25, 0.5, 1}, figures.Whole))
	}
	v.Layers = append(v.Layers, layerView{scene.LayerStops, u.Text("stops"), true}, layerView{scene.LayerValues, u.Text("counts"), false})
	if len(f.Unread()) > 0 {
		v.Layers = append(v.Layers, layerView{scene.LayerUnread, u.Text("not read"), true})
	}
	lay(m, extra)
}

// lay puts layers into a map, below its boundary.
func lay(m *scene.Scene, extra []scene.Layer) {
	for i, l := range m.Layers {
		if l.Name == scene.LayerBoundary {
			m.Layers = slices.Insert(m.Layers, i, extra...)
			return
		}
	}
}

// scaleOfCounts explains a surface of counts by its ends and the levels.
func scaleOfCounts(title string, s scene.Surface, l assess.Levels) scaleView {
	return scaleOf(scene.LayerSurface, title, s, []float64{0, l.WatchAt, l.TreatAt, s.Most}, figures.Short)
}

func scaleOf(name, title string, s scene.Surface, at []float64, word func(float64) string) scaleView {
	v := scaleView{Name: name, Title: title}
	for i, value := range at {
		if i > 0 && value <= at[i-1] || value > s.Most {
			continue
		}
		c := scene.Tint(s.Part(value))
		v.Ticks = append(v.Ticks, tick{fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B), word(value)})
	}
	return v
}
