package page

import (
	"fmt"
	"html/template"
	"math"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/output/scene"
)

// box is the size of all maps of a page in mm: on the screen as large as there is room,
// and alike, so that a disc means the same number on each.
type box struct{ width, height float64 }

// boxOf has the width given and room for each subject.
func boxOf(width float64, subjects []scene.Subject) box {
	b := box{width: width}
	for _, s := range subjects {
		b.height = max(b.height, scene.MapHeight(s, width, mapHeight))
	}
	return b
}

func (b box) viewBox() string { return fmt.Sprintf("0 0 %g %g", round(b.width), round(b.height)) }

// look is the style sheet with the ratio of the maps, which their width goes by.
func (b box) look() template.CSS {
	return template.CSS(fmt.Sprintf("%s:root { --ratio: %g; }\n", look, round(b.width/b.height)))
}

// shared gives subjects one scale for stops: the highest count of all has the full size,
// which is the size that the most crowded map has room for.
func (b box) shared(subjects []scene.Subject) []scene.Subject {
	most, full := 0.0, math.Inf(1)
	for _, s := range subjects {
		most = max(most, s.Highest())
	}
	for _, s := range subjects {
		_, plot := scene.MapIn(scene.Subject{Result: s.Result, Field: s.Field, Ground: s.Ground}, b.width, b.height)
		full = min(full, scene.FullSize(s, plot))
	}
	out := make([]scene.Subject, len(subjects))
	for i, s := range subjects {
		s.Most, s.Full = most, full
		out[i] = s
	}
	return out
}

// barView is the scale bar: its width as a share of the map's.
type barView struct{ Width, Word string }

// barMost is how much of the map's width a scale bar may take.
const barMost = 1.0 / 3

func (b box) bar(p scene.Plot, u figures.Units) barView {
	length, word := scene.ScaleBar(p, barMost*b.width, u)
	return barView{percent(length / b.width), word}
}

// sizes explain the discs, as large as they are on the map.
func (b box) sizes(s scene.Subject) (sizes []sizeView) {
	for _, value := range scene.LegendValues(s) {
		r := scene.StopRadius(value, s.Highest(), s.Full)
		sizes = append(sizes, sizeView{
			Radius: fmt.Sprintf("%g", round(r)), Edge: fmt.Sprintf("%g", round(r+discEdge)), Side: fmt.Sprintf("%g", round(2*(r+discEdge))),
			Width: percent(2 * (r + discEdge) / b.width),
			Label: report.Levelled(value, s.Result.Levels.Levels), Black: value >= s.Result.Levels.TreatAt,
		})
	}
	return sizes
}

// discEdge is half the line round a disc, in mm.
const discEdge = 0.15

func percent(part float64) string { return fmt.Sprintf("%g%%", round(100*part)) }
