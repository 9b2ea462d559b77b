package report

import (
	"fmt"
	"math"
	"strconv"

	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/followup/paired"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
)

// StepVerdict says in one sentence what happened between two visits and whether to
// believe it; where ground was treated, in which ground.
func StepVerdict(r *compare.Result, f *compare.Field, s *compare.Step) string {
	return stepVerdict(r, s) + visitsNotRead(f.Visits[s.From], f.Visits[s.To])
}

func stepVerdict(r *compare.Result, s *compare.Step) string {
	switch s.Basis {
	case compare.Untreated:
		return "in ground not treated, " + grew(r, s)
	case compare.Regrowth:
		return fmt.Sprintf("in ground not treated between the visits, %s; %s", grew(r, s), heldBack)
	case compare.NoGround:
		return "no growth can be told: " + growthUnknown(s)
	}
	return grew(r, s)
}

// visitsNotRead is what stands behind a verdict where not all counts of its visits were read;
// "" where they were.
func visitsNotRead(visits ...*compare.Visit) string {
	if lack := lackOf(visits, figures.Both); lack != nil {
		return "; but not read: " + joined(lack) + ", so all of this may be wrong"
	}
	return ""
}

// lackOf is what was not read, visit by visit; a stop of a day is no part of a whole, of
// which other languages speak otherwise.
func lackOf(visits []*compare.Visit, u figures.Units) (lack []string) {
	for _, v := range visits {
		stops, rows, _ := assess.Lost(v.Assess.Unread)
		if stops > 0 {
			lack = append(lack, u.Say("%[1]s of %[2]s", u.Counted(stops, "stop"), u.Day(v.Date)))
		}
		if rows > 0 {
			lack = append(lack, u.Say("%s of the stops of %s", u.Counted(rows, "row"), u.Day(v.Date)))
		}
	}
	return lack
}

// growthUnknown says why no growth is known where ground was treated.
func growthUnknown(s *compare.Step) string {
	var na, nb int
	for _, p := range s.Parts {
		if p.Lot != compare.TreatedBetween {
			na, nb = na+p.NA, nb+p.NB
		}
	}
	if na+nb == 0 {
		return fmt.Sprintf("all stops lie in ground treated on %s, and what a treatment did is no growth", joined(s.TreatedOn))
	}
	return fmt.Sprintf("outside the ground treated on %s lie %d stops before and %d after, fewer than %d, and what a treatment did is no growth", joined(s.TreatedOn), na, nb, compare.FewestPairs)
}

// grew tells the change that was measured.
func grew(r *compare.Result, s *compare.Step) string {
	c := s.Change
	switch {
	case math.IsNaN(c.Rate) && c.Odds && c.MeanA > 50:
		return "all were at or above the tally at both visits: no growth can be told"
	case math.IsNaN(c.Rate):
		return "nothing was found at either visit: no growth can be told"
	}
	word := "did not change"
	switch c.Grew() {
	case 1:
		word = "rose"
	case -1:
		word = "fell"
	}
	text := fmt.Sprintf("%s %s from %s to %s in %s: %s", r.Statistic, word, figures.Short(c.MeanA), figures.Short(c.MeanB), days(s.Days), pace(c))
	evidence := fmt.Sprintf("p %s, %s", chanceOf(c), stopsText(c.Matched, c.NA, c.NB))
	switch {
	case c.StandsOut && !c.Agrees():
		return fmt.Sprintf("%s; but the typical stop went the other way, and that stands out from the noise (%s): look at the few stops that make the mean", text, evidence)
	case c.StandsOut && c.Interval.Known() && c.Interval.Low <= 0 && c.Interval.High >= 0:
		return fmt.Sprintf("%s; that the typical stop changed stands out from the noise (%s), how fast the mean grows does not", text, evidence)
	case c.StandsOut:
		return fmt.Sprintf("%s; this stands out from the noise (%s)", text, evidence)
	}
	return fmt.Sprintf("%s; this does not stand out from the noise (%s): it may be no change at all", text, evidence)
}

// pace is the growth in words, with its interval: "doubles every 4.2 days (3.1 to
// 6.5)"; of shares "odds double every 4.2 days (3.1 to 6.5)".
func pace(c paired.Change) string {
	if c.Rate == 0 || math.IsNaN(c.Rate) {
		return "no growth"
	}
	doubles, halves := "doubles", "halves"
	if c.Odds {
		doubles, halves = "odds double", "odds halve"
	}
	verb := doubles
	if c.Rate < 0 {
		verb = halves
	}
	text := fmt.Sprintf("%s every %s days", verb, figures.Short(math.Abs(paired.DoublingDays(c.Rate))))
	if c.Guarded {
		text = fmt.Sprintf("%s in %s days or less", verb, figures.Short(math.Abs(paired.DoublingDays(c.Rate))))
	}
	low, high := c.Interval.Low, c.Interval.High
	switch {
	case !c.Interval.Known():
		return text + " (how sure is not known)"
	case low > 0 || high < 0:
		fast, slow := math.Abs(paired.DoublingDays(low)), math.Abs(paired.DoublingDays(high))
		return fmt.Sprintf("%s (%s to %s)", text, figures.Short(min(fast, slow)), figures.Short(max(fast, slow)))
	}
	return fmt.Sprintf("%s (from halving every %s days to doubling every %s)", text, figures.Short(-paired.DoublingDays(low)), figures.Short(paired.DoublingDays(high)))
}

func chanceOf(c paired.Change) string {
	const least = 0.0001
	if c.P < least {
		return "below 0.0001"
	}
	return strconv.FormatFloat(c.P, 'g', 2, 64)
}

func days(n float64) string { return daysIn(n, figures.Both) }

func daysIn(n float64, u figures.Units) string {
	if n == 1 {
		return u.Text("1 day")
	}
	return u.Say("%g days", n)
}
