//go:build !small

package engine

import (
	"github.com/geocoris/geocoris/geo/geofile"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

// A SprayRecord is a record of a spray that lies near the zones of a hand-off.
type SprayRecord struct {
	Date   string  `json:"date"`  // "" where only its ground is there
	Field  string  `json:"field"` // likewise
	Ground *Source `json:"-"`     // nil where it is not known, or cannot be read
}

// sprayedBefore gives jobs the sprays of before, so that the sheet tells who sprays. What a
// file beside holds never stops a job: one that cannot be read is ground that is not known.
func (q HandoffRequest) sprayedBefore(jobs []*handoff.Job) {
	for _, r := range q.Sprayed {
		for _, j := range jobs {
			if s, told := r.on(j); told {
				j.Sprayed = append(j.Sprayed, s)
			}
		}
	}
}

// on is the spray as it is told of with a job; not where it lies off its ground, in another
// field or long ago.
func (r SprayRecord) on(j *handoff.Job) (s handoff.Sprayed, told bool) {
	if r.Field != "" && r.Field != j.Field || r.Date != "" && LongAgo(r.Date, j.Days.Counted) {
		return s, false
	}
	s.Date = r.Date
	if r.Ground == nil {
		return s, r.Field != ""
	}
	c, err := geofile.DecodeSource(*r.Ground, geofile.Limits{})
	if err != nil {
		return s, r.Field != ""
	}
	again, err := j.SprayedAgain(c.Features)
	if err != nil {
		return s, r.Field != ""
	}
	s.Again = &again
	return s, again > 0
}
