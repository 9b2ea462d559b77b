package report

import (
	"fmt"
	"slices"

	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
)

// LevelsCaution goes with every level shown.
const LevelsCaution = levelsCaution

// WhyAway says why a stop went to no field.
const WhyAway = whyAway

// NoneRead is said of a field that somebody counted in.
const NoneRead = "none of its stops were read"

// Title names pest and day.
func Title(r *assess.Result, u figures.Units) string { return headed(r.Survey.Pest, r.Survey.Dates, u) }

// headed names a pest, and days as people say them.
func headed(pest string, days []string, u figures.Units) string {
	text := Sentence(pestIn(pest, u))
	if said := daysOf(days, u); said != "" {
		text += ", " + said
	}
	return text
}

// FieldTitle names pest and day of one field of a result, which is not the others' where
// fields were walked on days of their own.
func FieldTitle(r *assess.Result, f *assess.Field, u figures.Units) string {
	return headed(r.Survey.Pest, f.Days(), u)
}

// OwnDays is when a field was counted, in a form that takes it, where the title of the
// result tells other days; else "".
func OwnDays(r *assess.Result, f *assess.Field, form string, u figures.Units) string {
	if days := interval(f.Days()); days != "" && days != dates(r) {
		return fmt.Sprintf(form, daysOf(f.Days(), u))
	}
	return ""
}

// Averaged is the average and the highest stop of a field.
func Averaged(r *assess.Result, f *assess.Field, u figures.Units) string {
	return u.Say("%s on average, highest %s", withUnit(Levelled(f.Mean, r.Levels.Levels), r.Statistic, u), Levelled(f.Max, r.Levels.Levels))
}

// LevelWith writes a level with what it is of.
func LevelWith(v float64, s assess.Statistic, u figures.Units) string { return levelWith(v, s, u) }

// CutText is where treat ground is cut if that is not at the treat level; "" if it
// is.
func CutText(r *assess.Result, f *assess.Field, u figures.Units) string { return cutText(r, f, u) }

// CompareTitle names pest and days of a comparison.
func CompareTitle(r *compare.Result, u figures.Units) string {
	var days []string
	for _, f := range r.Fields {
		for _, v := range f.Visits {
			days = append(days, v.Date)
			if v.Last != "" {
				days = append(days, v.Last)
			}
		}
	}
	slices.Sort(days)
	return headed(r.Pest, days, u)
}

// AllSteps are those from each visit to the next, and from the first to the last
// where there is more than one.
func AllSteps(f *compare.Field) []*compare.Step { return allSteps(f) }
