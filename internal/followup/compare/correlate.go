package compare

import (
	"github.com/geocoris/geocoris/internal/followup/change"
	"github.com/geocoris/geocoris/internal/followup/paired"
)

// A Correlation is how far two visits show the same pattern.
type Correlation struct {
	From, To int
	Stops    paired.Correlation // Spearman over matched stops
	// Surface is Pearson over the nodes that both visits had a stop near. Nodes hang
	// together, so it has no p-value to speak of.
	Surface paired.Correlation
}

// correlate looks at every pair of visits.
func (r *Result) correlate(f *Field) (out []Correlation, err error) {
	values := make([][]float64, len(f.Visits))
	for i, v := range f.Visits {
		values[i] = v.Grid.Inside(f.XY)
	}
	for i, a := range f.Visits {
		for j := i + 1; j < len(f.Visits); j++ {
			b := f.Visits[j]
			c := Correlation{From: i, To: j}
			if c.Stops, err = paired.Spearman(valuesOf(a, b, r.match(a, b))); err != nil {
				return nil, err
			}
			va, vb, err := change.Both(values[i], values[j])
			if err != nil {
				return nil, err
			}
			if c.Surface, err = paired.Pearson(va, vb); err != nil {
				return nil, err
			}
			out = append(out, c)
		}
	}
	return out, nil
}
