package report

import (
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/followup/paired"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
)

// A CompareBrief is what is read first after the second visit: of each field what changed,
// whether the spray worked, and when to go back. [CompareScreen] has the figures behind it.
type CompareBrief struct {
	CompareScreen
	Width int // columns of the screen; 0 for [UsualWidth]
}

// Lines are those of the screen, none longer than its width but for a longer word.
func (b CompareBrief) Lines() []Line {
	p := newPaper(b.Width)
	r := b.Result
	p.put(0, Quiet, b.title())
	fields := r.Fields
	if len(fields) >= manyFields {
		p.blank()
		fields = b.table(p)
	}
	for _, f := range fields {
		p.blank()
		p.put(0, Quiet, fmt.Sprintf("%s, %s, %s", f.Name, b.Units.Area(f.Area), figures.Counted(len(f.Visits), "visit")))
		last := f.Steps[len(f.Steps)-1]
		p.said("What changed", PlainChange(f, last, r.Statistic), b.redGround(f, last))
		for _, t := range f.Treatments {
			p.said("Did the spray work", PlainEffect(t))
		}
		p.put(2, Ask, PlainGoBack(f.Next))
		p.said("Forecast, not a count", b.forecast(f))
		p.said("Look out", visitsLookOut(f, last)...)
	}
	notes := [][]string{CompareNotes(r), b.Notes}
	for _, f := range r.Fields {
		notes = append(notes, NoteTexts(f))
	}
	p.asides(firstNotes(notes...))
	p.footer(b.Out, b.Files)
	return p.lines
}

// Write writes the lines as plain text.
func (b CompareBrief) Write(w io.Writer) error { return WriteLines(w, b.Lines()) }

func (b CompareBrief) title() string {
	r := b.Result
	return fmt.Sprintf("%s: spray at %s, watch at %s.", CompareTitle(r), levelWith(r.Levels.TreatAt, r.Statistic), figures.Short(r.Levels.WatchAt))
}

// PlainChange says what happened between the visits of a step, and whether to believe it.
func PlainChange(f *compare.Field, s *compare.Step, stat assess.Statistic) string {
	where := ""
	switch s.Basis {
	case compare.NoGround:
		return "The growth cannot be told: too few stops lie in ground that was not sprayed."
	case compare.Untreated:
		where = "In ground not sprayed: "
	case compare.Regrowth:
		where = "In ground not sprayed between the visits: "
	}
	text := plainGrowth(s, stat)
	if where == "" {
		return text
	}
	return where + strings.ToLower(text[:1]) + text[1:]
}

func plainGrowth(s *compare.Step, stat assess.Statistic) string {
	c := s.Change
	switch {
	case math.IsNaN(c.Rate) && c.Odds && c.MeanA > 50:
		return "All were over the tally at both visits, so growth cannot be told."
	case math.IsNaN(c.Rate):
		return "Nothing was found at either visit."
	}
	of := each(stat)
	if stat.Share() {
		of = stat.String()
	}
	means := fmt.Sprintf("%s to %s %s in %s", figures.Short(c.MeanA), figures.Short(c.MeanB), of, days(s.Days))
	switch {
	case c.StandsOut && !c.Agrees():
		return fmt.Sprintf("The average went from %s, but the usual stop went the other way. A few stops make the average.", means)
	case c.Rate == 0:
		return fmt.Sprintf("The average stayed the same, %s.", means)
	case !c.StandsOut:
		return fmt.Sprintf("%s than before, %s, but too few stops to be sure.", higherOrLower(c), means)
	case c.Interval.Known() && c.Interval.Low <= 0 && c.Interval.High >= 0:
		return fmt.Sprintf("%s than before, %s, but how fast it goes is not clear.", higherOrLower(c), means)
	}
	return fmt.Sprintf("The average %s from %s%s.", rose(c), means, plainPace(c))
}

func higherOrLower(c paired.Change) string {
	if c.Grew() < 0 {
		return "Lower"
	}
	return "Higher"
}

func rose(c paired.Change) string {
	if c.Grew() < 0 {
		return "fell"
	}
	return "rose"
}

// plainPace is how fast numbers grow; "" of shares, whose odds say little to people.
func plainPace(c paired.Change) string {
	if c.Odds || c.Guarded || c.Rate == 0 {
		return ""
	}
	verb := "doubling"
	if c.Rate < 0 {
		verb = "halving"
	}
	return fmt.Sprintf(", %s about every %s days", verb, figures.Trimmed(math.Abs(paired.DoublingDays(c.Rate)), 1))
}

// redGround is what became of the treat ground.
func (b CompareBrief) redGround(f *compare.Field, s *compare.Step) string {
	before, after := f.Visits[s.From].Assess.Map, f.Visits[s.To].Assess.Map
	if before == nil || after == nil {
		return ""
	}
	x, y := before.Zone(zones.Treat).Area, after.Zone(zones.Treat).Area
	switch {
	case x == 0 && y == 0:
		return "There is no red ground."
	case x == 0:
		return fmt.Sprintf("The red ground is new: %s.", b.Units.Area(y))
	case y == 0:
		return fmt.Sprintf("The red ground is gone; it was %s.", b.Units.Area(x))
	case b.Units.Area(x) == b.Units.Area(y):
		return fmt.Sprintf("The red ground is still %s.", b.Units.Area(y))
	case y > x:
		return fmt.Sprintf("The red ground grew from %s to %s.", b.Units.Area(x), b.Units.Area(y))
	}
	return fmt.Sprintf("The red ground shrank from %s to %s.", b.Units.Area(x), b.Units.Area(y))
}

// PlainEffect says whether a treatment worked.
func PlainEffect(t compare.TreatmentResult) string {
	day := figures.Day(t.Date)
	if t.Efficacy == nil {
		return plainNoEffect(t, day)
	}
	e := *t.Efficacy
	low, high := e.Interval.Low, e.Interval.High
	part := fmt.Sprintf("took about %.0f %% of the pest", e.Percent)
	if e.Percent < 0 {
		part = fmt.Sprintf("left %.0f %% more than would be there without it", -e.Percent)
	}
	switch {
	case !e.Interval.Known():
		return fmt.Sprintf("The spray of %s %s, but how sure that is cannot be told.", day, part)
	case low <= 0 && high >= 0:
		return fmt.Sprintf("The spray of %s cannot be told from doing nothing.", day)
	case e.Percent < 0:
		return fmt.Sprintf("No: the spray of %s %s.", day, part)
	}
	return fmt.Sprintf("The spray of %s %s; it could be %.0f to %.0f %%.", day, part, math.Floor(low), math.Ceil(high))
}

func plainNoEffect(t compare.TreatmentResult, day string) string {
	if t.Why != nil {
		switch t.Why.Gap {
		case compare.NotYet:
			return fmt.Sprintf("Nobody has counted since the spray of %s.", day)
		case compare.NoneInside:
			return fmt.Sprintf("No stop lies in the ground sprayed on %s; count there too.", day)
		case compare.NoneBefore, compare.NoCheckNorInside, compare.NoCheck:
			return fmt.Sprintf("Nobody can say: no stop lies in ground left unsprayed on %s. Leave a strip next time.", day)
		}
	}
	return fmt.Sprintf("What the spray of %s did cannot be told.", day)
}

// PlainGoBack is the day to go back by, and why.
func PlainGoBack(n compare.Next) string {
	return fmt.Sprintf("Go back by %s: %s.", figures.Day(n.GoBackBy), plainCause(n.Why))
}

func plainCause(r compare.Reason) string {
	switch r.Cause {
	case compare.Colonies:
		return "the pest has settled in"
	case compare.QuickGrowth:
		return fmt.Sprintf("at its fastest, a further %s of the field could be red by then", figures.Whole(r.Share))
	case compare.SecondLook:
		return fmt.Sprintf("the spray of %s wants a second look", figures.Day(r.Treated))
	case compare.MapGoodUntil:
		return "the last map is good until then"
	}
	return fmt.Sprintf("the usual %d days", r.Days)
}

func (b CompareBrief) forecast(f *compare.Field) string {
	p := f.Forecast
	if p == nil {
		return ""
	}
	return fmt.Sprintf("by %s about %s may be red, %s to %s.", figures.Day(p.Date), b.Units.Area(p.Treat), b.Units.Area(p.TreatSlowest), b.Units.Area(p.TreatQuick))
}

// visitsLookOut is what may make a comparison wrong.
func visitsLookOut(f *compare.Field, s *compare.Step) []string {
	var unlike []string
	for _, u := range s.Unlike {
		unlike = append(unlike, unlikeIn(u.In))
	}
	differ := ""
	if len(unlike) > 0 {
		differ = fmt.Sprintf("The visits differ in %s.", joined(unlike))
	}
	unread := unreadIn(f.Visits[s.From], f.Visits[s.To])
	held := ""
	if s.Basis == compare.Regrowth {
		held = "What was sprayed before may still be held back."
	}
	return sentencesOf(unread, differ, held)
}

func unlikeIn(k compare.Difference) string {
	switch k {
	case compare.Observers:
		return "who counted"
	case compare.LeafRules:
		return "which leaves"
	case compare.Stages:
		return "growth stage"
	case compare.LevelPairs:
		return "spray and watch levels"
	case compare.CutKinds, compare.CutValues:
		return "how the map was cut"
	case compare.Effort:
		return "how much was counted at a stop"
	}
	return "the number of stops"
}

// unreadIn is how much of visits was not read; "" where all was.
func unreadIn(visits ...*compare.Visit) string {
	stops, rows := 0, 0
	for _, v := range visits {
		own, more, _ := assess.Lost(v.Assess.Unread)
		stops, rows = stops+own, rows+more
	}
	var parts []string
	if stops > 0 {
		parts = append(parts, figures.Counted(stops, "stop"))
	}
	if rows > 0 {
		parts = append(parts, figures.Counted(rows, "row"))
	}
	if parts == nil {
		return ""
	}
	return joined(parts) + " could not be read, so this may be wrong."
}
