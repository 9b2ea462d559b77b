//go:build !small

package engine

import (
	"bytes"

	"github.com/geocoris/geocoris/internal/output/fieldwork"
	"github.com/geocoris/geocoris/internal/scouting/observer"
)

// A CalibrateOutcome is what leaves that were estimated and then counted tell of each
// observer.
type CalibrateOutcome struct {
	Found    fieldwork.Calibrations
	Used     int                // rows
	Problems []observer.Problem // rows that were set aside
	pairs    []observer.Pair
}

// Calibrate compares estimated with exactly counted leaves, for each observer. Where no
// row can be used it is an error.
func Calibrate(pairs Source) (*CalibrateOutcome, error) {
	read, problems, err := observer.ReadPairs(pairs.Base(), bytes.NewReader(pairs.Content))
	if err != nil {
		return nil, err
	}
	return &CalibrateOutcome{fieldwork.Calibrations(observer.Calibrate(read)), len(read), problems, read}, nil
}

// Files are the calibrations for [Settings.Observers], and a picture of the pairs.
func (o *CalibrateOutcome) Files() ([]File, error) {
	return render([]rendering{
		{"observers.json", observer.FileOf(o.Found).Write},
		{"pairs.svg", fieldwork.PairsPlot{Calibrations: o.Found, Pairs: o.pairs}.WriteSVG},
	})
}

// A DrillRequest asks for a page to practise estimating on.
type DrillRequest struct {
	Series  uint32  // number of the series of leaves
	Seconds float64 // of the first look
	Most    int     // insects on a leaf
}

// DrillDefaults are the drill where nothing is asked for.
func DrillDefaults() DrillRequest { return DrillRequest{Series: 1, Seconds: 4, Most: 500} }

// Drill is that page.
func Drill(q DrillRequest) ([]File, error) {
	d := fieldwork.Drill{Seed: q.Series, Seconds: q.Seconds, Most: q.Most}
	if err := d.Validate(); err != nil {
		return nil, usage(err)
	}
	return render([]rendering{{"drill.html", d.WriteHTML}})
}
