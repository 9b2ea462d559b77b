//go:build !small

package engine

import (
	"bytes"
	"fmt"
	"slices"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
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

// Calibrate compares estimated with exactly counted leaves, for each observer, of all
// files together. A file of which no row can be used is an error, and so is one that is
// given twice, as each pair would count twice.
func Calibrate(files ...Source) (*CalibrateOutcome, error) {
	out := &CalibrateOutcome{}
	seen := map[string]string{}
	for _, from := range files {
		digest := InputOf(from).SHA256
		if first, twice := seen[digest]; twice {
			return nil, hinted(fmt.Errorf("%s holds the same pairs as %s", from.Name, first), "give each file once")
		}
		seen[digest] = from.Name
		read, problems, err := observer.ReadPairs(from.Base(), bytes.NewReader(from.Content))
		if err != nil {
			return nil, err
		}
		out.pairs, out.Problems = append(out.pairs, read...), append(out.Problems, problems...)
	}
	out.Found, out.Used = fieldwork.Calibrations(observer.Calibrate(out.pairs)), len(out.pairs)
	return out, nil
}

// Files are the calibrations for [Settings.Observers], and a picture of the pairs.
func (o *CalibrateOutcome) Files(u figures.Units) ([]File, error) {
	return render([]rendering{
		{"observers.json", observer.FileOf(o.Found).Write},
		{"pairs.svg", fieldwork.PairsPlot{Calibrations: o.Found, Pairs: o.pairs, Units: u}.WriteSVG},
	})
}

// Corrects reports whether the counts of anybody can be corrected by the pairs.
func (o *CalibrateOutcome) Corrects() bool {
	return slices.ContainsFunc(o.Found, func(c observer.Calibration) bool { return c.Fit != nil })
}

// A DrillRequest asks for a page to practise estimating on.
type DrillRequest struct {
	Series   uint32  // number of the series of leaves
	Seconds  float64 // of the first look
	Most     int     // insects on a leaf
	Language vocabulary.Language
}

// DrillDefaults are the drill where nothing is asked for.
func DrillDefaults() DrillRequest { return DrillRequest{Series: 1, Seconds: 4, Most: 500} }

// Drill is that page.
func Drill(q DrillRequest) ([]File, error) {
	d := fieldwork.Drill{Seed: q.Series, Seconds: q.Seconds, Most: q.Most, Units: figures.Both.In(q.Language)}
	if err := d.Validate(); err != nil {
		return nil, usage(err)
	}
	return render([]rendering{{"drill.html", d.WriteHTML}})
}
