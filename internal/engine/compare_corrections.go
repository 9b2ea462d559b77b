//go:build !small

package engine

import (
	"maps"
	"slices"

	"github.com/geocoris/geocoris/internal/followup/season"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// correctingOf is how corrections find their files in one week: they may be of another's,
// and a name that fits files of two weeks is an error.
func (q CompareRequest) correctingOf(own []Source) (o survey.Correcting, err error) {
	o.Some = true
	if q.Settings.Corrections == "" {
		return o, nil
	}
	for _, week := range q.Weeks {
		names, err := week.names()
		if err != nil {
			return o, err
		}
		o.Others = append(o.Others, names...)
	}
	for _, s := range own {
		if i := slices.Index(o.Others, s.Name); i >= 0 {
			o.Others = slices.Delete(o.Others, i, i+1)
		}
	}
	return o, nil
}

// names are those of the files of counts of a week.
func (w Week) names() (names []string, err error) {
	switch {
	case w.Folder != nil:
		samples, err := w.Folder.counts()
		if err != nil {
			return nil, err
		}
		for _, s := range samples {
			names = append(names, s.Name)
		}
	case w.Season != nil:
		lines, err := w.Season.List()
		if err != nil {
			return nil, err
		}
		for _, l := range lines {
			names = append(names, l.Files...)
		}
	default:
		names = []string{w.Counts.Name}
	}
	return names, nil
}

// ofVisit is the setup for a visit of a season: corrections are those that were kept with
// it, as files of two visits often have one name, unless others are asked for.
func (q CompareRequest) ofVisit(visit season.Visit) (w Setup, err error) {
	const setting = "corrections"
	w = q.Setup
	if w.Settings.Corrections != "" && !w.Kept[setting] {
		w.correcting, err = q.correctingOf(bare(visit.Files))
		return w, err
	}
	own, err := Kept(visit)
	if err != nil {
		return w, err
	}
	w.correcting, w.Settings.Corrections = keptCorrecting, ""
	if own.Kept[setting] {
		w.Settings.Corrections, w.Named = own.Settings.Corrections, maps.Clone(w.Named)
		if w.Named == nil {
			w.Named = map[string]Source{}
		}
		w.Named[setting] = own.Named[setting]
	}
	return w, nil
}
