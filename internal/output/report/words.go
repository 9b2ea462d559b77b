package report

import (
	"fmt"

	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/mapping/assess"
)

// LevelsCaution goes with every level shown.
const LevelsCaution = levelsCaution

// WhyAway says why a stop went to no field.
const WhyAway = whyAway

// NoneRead is said of a field that somebody counted in.
const NoneRead = "none of its stops were read"

// Title names pest and day.
func Title(r *assess.Result) string { return title(r) }

// FieldTitle names pest and day of one field of a result, which is not the others' where
// fields were walked on days of their own.
func FieldTitle(r *assess.Result, f *assess.Field) string { return titled(r, interval(f.Days())) }

// OwnDays is when a field was counted, in a form that takes it, where the title of the
// result tells other days; else "".
func OwnDays(r *assess.Result, f *assess.Field, form string) string {
	if days := interval(f.Days()); days != "" && days != dates(r) {
		return fmt.Sprintf(form, days)
	}
	return ""
}

// CutText is where treat ground is cut if that is not at the treat level; "" if it
// is.
func CutText(r *assess.Result, f *assess.Field) string { return cutText(r, f) }

// CompareTitle names pest and days of a comparison.
func CompareTitle(r *compare.Result) string { return compareTitle(r) }

// AllSteps are those from each visit to the next, and from the first to the last
// where there is more than one.
func AllSteps(f *compare.Field) []*compare.Step { return allSteps(f) }
