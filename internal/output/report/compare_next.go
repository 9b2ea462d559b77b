package report

import (
	"fmt"

	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/language/figures"
)

// trial is what a treatment does after its day.
const trial = "in one Texas trial of 2015 good control held 17 to 21 days, and poor control needed another look after 10 to 14"

// GoBackWhy says why to go back by the day.
func GoBackWhy(n compare.Next) string {
	text := causeText(n.Why)
	if n.Why.Unsure {
		return fmt.Sprintf("%s, as no growth is known; %s", text, trial)
	}
	return text
}

func causeText(r compare.Reason) string {
	switch r.Cause {
	case compare.Colonies:
		return fmt.Sprintf("colonies are there: %d days", r.Days)
	case compare.QuickGrowth:
		return fmt.Sprintf("at the quick end of the growth measured, which a map of one morning does not know, a further %s of the ground may reach the treat level by then", figures.Whole(r.Share))
	case compare.SecondLook:
		return fmt.Sprintf("treated on %s: %s", r.Treated, trial)
	case compare.MapLook:
		return "the map of the last visit asks for a look then"
	case compare.MapGoodUntil:
		return "the map of the last visit is good until then"
	}
	return fmt.Sprintf("the usual %d days", r.Days)
}

// noGrowthKnown says why no growth is known after treatments; "" where it is.
func noGrowthKnown(f *compare.Field) string {
	if f.Next.Basis != compare.NoGround {
		return ""
	}
	return growthUnknown(f.Steps[len(f.Steps)-1])
}

// growthGround tells which growth the figures go by; "" where no ground was treated.
func growthGround(n compare.Next) string {
	switch n.Basis {
	case compare.Untreated:
		return "the growth in ground not treated; what was left in treated ground is taken to grow as fast, though the treatment may hold it back"
	case compare.Regrowth:
		return "the growth in ground not treated between the visits; " + heldBack
	}
	return ""
}

// heldBack is the doubt about growth after a treatment.
const heldBack = "what was treated before may still be held back, and grow faster later"

// ForecastText is what must stand beside a forecast wherever it is shown.
func ForecastText(f compare.Forecast) string {
	what := "everything grows"
	if f.Odds {
		what = "the odds of all shares grow"
	}
	switch f.Basis {
	case compare.Untreated:
		return fmt.Sprintf("forecast for %s, not an observation: %s alike, as fast as in ground not treated, also what was left in treated ground, where the treatment may hold it back; nothing moves, nothing more is sprayed", f.Date, what)
	case compare.Regrowth:
		return fmt.Sprintf("forecast for %s, not an observation: %s alike, as fast as in ground not treated between the visits; %s; nothing moves, nothing more is sprayed", f.Date, what, heldBack)
	}
	return fmt.Sprintf("forecast for %s, not an observation: %s alike, nothing moves, nothing is sprayed", f.Date, what)
}
