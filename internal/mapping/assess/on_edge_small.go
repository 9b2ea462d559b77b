//go:build small

package assess

import "github.com/geocoris/geocoris/internal/scouting/survey"

// besides are none: a phone has room for no word of them.
type besides struct{}

func (r *Result) noteEdge([]site, place, survey.Stop) {}
