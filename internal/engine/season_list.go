//go:build !small

package engine

import "github.com/geocoris/geocoris/internal/output/report"

// ListSeason lists the visits and the treatments of a season.
func ListSeason(s SeasonReader) (l report.SeasonList, err error) {
	if l.Visits, err = s.List(); err != nil {
		return l, err
	}
	if l.Treatments, err = s.Records(); err != nil {
		return l, err
	}
	l.Beside, err = s.Beside()
	return l, err
}
