package report

import (
	"fmt"
	"math"

	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/followup/paired"
)

// EfficacyUnknown says why efficacy is not known, and what is; "" where it can.
func EfficacyUnknown(t compare.TreatmentResult) string {
	const lead, advice = "no stop lies in untreated ground", "leave a strip untreated next time, or count outside too"
	w := t.Why
	if w == nil {
		return ""
	}
	switch w.Gap {
	case compare.NotYet:
		return "no visit after the treatment yet"
	case compare.NoneInside:
		return "no stops inside since: count in the treated ground too"
	case compare.NoneBefore:
		return lead + ", and nobody counted before: " + advice
	case compare.NoCheckNorInside:
		return fmt.Sprintf("%s, and %s: %s", lead, w.Err, advice)
	case compare.NoCheck:
		return fmt.Sprintf("%s; inside, before and after without a check, %s; how much of that the treatment did nobody can say: %s", lead, fellBy(w.Percent, w.Interval), advice)
	}
	return w.Err.Error()
}

// fellBy is a change from before to after in words.
func fellBy(percent float64, i paired.Interval) string {
	text := fmt.Sprintf("there is %.0f %% less", percent)
	if percent < 0 {
		text = fmt.Sprintf("there is %.0f %% more", -percent)
	}
	if !i.Known() {
		return text + " (how sure is not known)"
	}
	if i.Low <= 0 && i.High >= 0 {
		return fmt.Sprintf("%s (from %.0f %% more to %.0f %% less), which does not stand out from the noise", text, -i.Low, i.High)
	}
	low, high := math.Abs(i.Low), math.Abs(i.High)
	return fmt.Sprintf("%s (%.0f to %.0f %%)", text, min(low, high), max(low, high))
}

// Reentry reminds of the interval; it presets none.
func Reentry(t compare.Treatment) string {
	if t.ReentryHours > 0 {
		return fmt.Sprintf("re-entry: not before %g hours after the treatment of %s, as you read it off the label", t.ReentryHours, t.Date)
	}
	return "re-entry: read the interval off the label before anybody goes in to count"
}
