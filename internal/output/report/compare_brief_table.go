package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// table puts all fields on paper, the worst first, and returns those that are described at
// length, in that order: with red ground, to be counted again, sprayed, or not read whole.
func (b CompareBrief) table(p *paper) (long []*compare.Field) {
	u, fields := b.Units, slices.Clone(b.Result.Fields)
	slices.SortStableFunc(fields, worseNow)
	cells := [][]string{{u.Text("field"), u.Say("average %s", averageOf(b.Result.Statistic, u)), u.Say("red %s", u.AreaUnit()), u.Text("go back by"), u.Text("visits")}}
	var tones []Tone
	marked := false
	for _, f := range fields {
		red, tone := "", Leave
		if area := redNow(f); area > 0 {
			red, tone = u.Bare(area), Spray
		}
		by := u.ShortDay(f.Next.GoBackBy)
		if f.Overdue() {
			by = u.Text("at once")
		}
		if v, judged := verdict.On(b.Now, f.Name); judged && tone == Leave {
			tone = ToneOf(v.Kind)
		}
		if f.CountAgain() {
			tone = Ask
		}
		average, ofPart := shortChange(f, f.Steps[len(f.Steps)-1], u)
		marked = marked || ofPart
		cells = append(cells, []string{f.Name, average, red, by, fmt.Sprint(len(f.Visits))})
		tones = append(tones, tone)
		if tone != Leave || len(f.Treatments) > 0 || b.unread(f) {
			long = append(long, f)
		}
	}
	fit(cells, p.width)
	for i, line := range columns(cells) {
		tone := Quiet
		if i > 0 {
			tone = tones[i-1]
		}
		p.lines = append(p.lines, Line{line, tone})
	}
	if marked {
		p.put(0, Quiet, u.Text("* Of ground not sprayed, or of places counted twice: not the map's average."))
	}
	return long
}

// averageOf is what averages are of, at the head of a column.
func averageOf(stat assess.Statistic, u figures.Units) string {
	if stat.Share() {
		return "%"
	}
	return u.Each(stat.Unit)
}

// unread reports whether stops or rows of the last step were not read.
func (b CompareBrief) unread(f *compare.Field) bool {
	last := f.Steps[len(f.Steps)-1]
	return unreadIn(b.Units, f.Visits[last.From], f.Visits[last.To]) != ""
}

// worseNow orders fields by the red ground of the last visit, then by the day to go back
// by, then by the average.
func worseNow(a, b *compare.Field) int {
	return cmp.Or(
		cmp.Compare(redNow(b), redNow(a)),
		cmp.Compare(a.Next.GoBackBy, b.Next.GoBackBy),
		cmp.Compare(meanNow(b), meanNow(a)),
	)
}

// redNow is the treat ground of the last visit, m².
func redNow(f *compare.Field) float64 {
	if m := f.Visits[len(f.Visits)-1].Assess.Map; m != nil {
		return m.Zone(zones.Treat).Area
	}
	return 0
}

func meanNow(f *compare.Field) float64 { return f.Visits[len(f.Visits)-1].Assess.Mean }

// shortChange is where an average went, with which way where that is sure, and a mark where it
// is not that of all stops.
func shortChange(f *compare.Field, s *compare.Step, u figures.Units) (text string, ofPart bool) {
	c := s.Change
	switch means := u.Say("%s to %s", u.Short(c.MeanA), u.Short(c.MeanB)); {
	case math.IsNaN(c.MeanA) || math.IsNaN(c.MeanB) || s.Basis == compare.NoGround:
		return u.Text("not known"), false
	case c.MeanA == c.MeanB:
		text = u.Say("still %s", u.Short(c.MeanB))
	case !c.StandsOut || !c.Agrees():
		text = u.Say("%s, not sure", means)
	default:
		text = u.Say("%s, %s", rose(c, u), means)
	}
	if s.Basis != compare.AllGround || ofSomePlaces(f, s) {
		return text + " *", true
	}
	return text, false
}
