package report

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/followup/paired"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// A CompareBrief is what is read first after the second visit: of each field what changed,
// whether the spray worked, and when to go back. [CompareScreen] has the figures behind it.
type CompareBrief struct {
	CompareScreen
	Width int // columns of the screen; 0 for [UsualWidth]
}

// Lines are those of the screen, none longer than its width but for a longer word.
func (b CompareBrief) Lines() []Line {
	p := newPaper(b.Width, b.Units)
	r := b.Result
	p.put(0, Quiet, b.title())
	fields := r.Fields
	if len(fields) >= manyFields {
		p.blank()
		fields = b.table(p)
	}
	for _, f := range fields {
		p.blank()
		p.put(0, Quiet, fmt.Sprintf("%s, %s, %s", f.Name, b.Units.Area(f.Area), b.Units.Counted(len(f.Visits), "visit")))
		if r.Several() {
			p.put(2, Quiet, Sentence(levelsSaid(f.Levels(), r.Statistic, b.Units))+".")
		}
		for _, a := range Answers(r, f, b.Units, b.Now...) {
			if a.Now != verdict.None {
				p.put(2, ToneOf(a.Now), strings.Join(a.Said, " "))
				continue
			}
			if a.Next {
				p.put(2, Ask, strings.Join(a.Said, " "))
				continue
			}
			p.said(a.Asked, a.Said...)
		}
	}
	notes := [][]string{CompareNotes(r), b.Notes}
	for _, f := range r.Fields {
		notes = append(notes, NoteTexts(f))
	}
	p.asides(firstNotes(b.Units, notes...))
	p.footer(b.Out, b.Files)
	return p.lines
}

// Write writes the lines as plain text.
func (b CompareBrief) Write(w io.Writer) error { return WriteLines(w, b.Lines()) }

func (b CompareBrief) title() string {
	r, title := b.Result, CompareTitle(b.Result, b.Units)
	if r.Several() {
		return ownLevels(title, b.Units)
	}
	return fmt.Sprintf("%s: %s.", title, levelsSaid(r.Levels, r.Statistic, b.Units))
}

// PlainChange says what happened between the visits of a step, and whether to believe it.
func PlainChange(f *compare.Field, s *compare.Step, stat assess.Statistic, u figures.Units) string {
	where, places := "", s.Change.NA
	some := ofSomePlaces(f, s)
	switch {
	case s.Basis == compare.NoGround:
		return u.Text("The growth is not known: too few stops lie in ground that was not sprayed.")
	case s.Basis == compare.Untreated && some:
		where = u.Say("In ground not sprayed, at the %d places counted twice: ", places)
	case s.Basis == compare.Untreated:
		where = u.Text("In ground not sprayed: ")
	case s.Basis == compare.Regrowth && some:
		where = u.Say("In ground not sprayed between the visits, at the %d places counted twice: ", places)
	case s.Basis == compare.Regrowth:
		where = u.Text("In ground not sprayed between the visits: ")
	case some:
		where = u.Say("At the %d places counted twice: ", places)
	}
	text := plainGrowth(s, stat, u)
	if where == "" {
		return text
	}
	return where + lowered(text)
}

// ofSomePlaces reports whether the averages of a step are those of places that were counted at both
// visits, and other stops were counted too: they are not the averages of its maps then.
func ofSomePlaces(f *compare.Field, s *compare.Step) bool {
	c := s.Change
	return c.Matched && (c.NA < len(f.Visits[s.From].Assess.Planned()) || c.NB < len(f.Visits[s.To].Assess.Planned()))
}

func plainGrowth(s *compare.Step, stat assess.Statistic, u figures.Units) string {
	c := s.Change
	switch {
	case math.IsNaN(c.Rate) && c.Odds && c.MeanA > 50:
		return u.Text("All were over the tally at both visits, so growth is not known.")
	case math.IsNaN(c.Rate):
		return u.Text("Nothing was found at either visit.")
	}
	means := u.Say("%s to %s %s in %s", u.Short(c.MeanA), u.Short(c.MeanB), ofWhat(stat, u), daysIn(s.Days, u))
	switch {
	case c.StandsOut && !c.Agrees():
		return u.Say("The average went from %s, but the usual stop went the other way. A few stops make the average.", means)
	case c.Rate == 0:
		return u.Say("The average stayed the same, %s.", means)
	case !c.StandsOut:
		return u.Say("%s than before, %s, but too few stops to be sure.", higherOrLower(c, u), means)
	case c.Interval.Known() && c.Interval.Low <= 0 && c.Interval.High >= 0:
		return u.Say("%s than before, %s, but how fast it goes is not clear.", higherOrLower(c, u), means)
	}
	return u.Say("The average %s from %s%s.", rose(c, u), means, plainPace(c, u))
}

// ofWhat stands behind averages: "a leaf", "% of leaves with the pest".
func ofWhat(stat assess.Statistic, u figures.Units) string {
	if stat.Share() {
		return stat.In(u.Language())
	}
	return u.Each(stat.Unit)
}

func higherOrLower(c paired.Change, u figures.Units) string {
	if c.Grew() < 0 {
		return u.Text("Lower")
	}
	return u.Text("Higher")
}

func rose(c paired.Change, u figures.Units) string {
	if c.Grew() < 0 {
		return u.Text("fell")
	}
	return u.Text("rose")
}

// plainPace is how fast numbers grow; "" of shares, whose odds say little to people.
func plainPace(c paired.Change, u figures.Units) string {
	if c.Odds || c.Guarded || c.Rate == 0 {
		return ""
	}
	every := u.Trimmed(math.Abs(paired.DoublingDays(c.Rate)), 1)
	if c.Rate < 0 {
		return u.Say(", halving about every %s days", every)
	}
	return u.Say(", doubling about every %s days", every)
}

// PlainEffect says whether a treatment worked.
func PlainEffect(t compare.TreatmentResult, u figures.Units) string {
	return plainEffectOn(t, u.Day(t.Date), u)
}

// effectIn is [PlainEffect] of a field; the day has its year where that is not the last visit's.
func effectIn(f *compare.Field, t compare.TreatmentResult, u figures.Units) string {
	return plainEffectOn(t, dayIn(f, t.Date, u), u)
}

// dayIn is a day beside those of the visits to a field: with its year where that is not the last
// visit's.
func dayIn(f *compare.Field, day string, u figures.Units) string {
	return u.DayBeside(day, lastOf(f).Date)
}

func plainEffectOn(t compare.TreatmentResult, day string, u figures.Units) string {
	if t.Efficacy == nil {
		return plainNoEffect(t, day, u)
	}
	return sentenced(plainEffect(*t.Efficacy, day, u), withoutBefore(*t.Efficacy, u))
}

// withoutBefore is what an efficacy rests on where nobody counted before; "" where somebody did.
func withoutBefore(e paired.Efficacy, u figures.Units) string {
	if e.Formula != paired.Abbott {
		return ""
	}
	return u.Text("Without a count there before it, both sides are taken to have been alike.")
}

func plainEffect(e paired.Efficacy, day string, u figures.Units) string {
	low, high := e.Interval.Low, e.Interval.High
	part := u.Say("took about %.0f %% of the pest", e.Percent)
	if e.Percent < 0 {
		part = u.Say("left %.0f %% more than would be there without it", -e.Percent)
	}
	switch {
	case !e.Interval.Known():
		return u.Say("The spray of %s %s, but how sure that is, nobody knows.", day, part)
	case low <= 0 && high >= 0:
		return u.Say("The spray of %s made no clear difference.", day)
	case e.Percent < 0:
		return u.Say("No: the spray of %s %s.", day, part)
	}
	return u.Say("The spray of %s %s; it could be %.0f to %.0f %%.", day, part, math.Floor(low), math.Ceil(high))
}

func plainNoEffect(t compare.TreatmentResult, day string, u figures.Units) string {
	if t.Why != nil {
		switch t.Why.Gap {
		case compare.NotYet:
			return u.Say("Nobody has counted since the spray of %s.", day)
		case compare.NoneInside:
			return u.Say("Nobody has counted in the ground sprayed on %s since; count there too.", day)
		case compare.TooFewStops:
			return u.Say("Too few stops to tell whether the spray of %s worked.", day)
		case compare.NoneBefore, compare.NoCheckNorInside, compare.NoCheck:
			return u.Say("Nobody can say: no stop lies in ground left unsprayed on %s. Leave a strip next time.", day)
		}
	}
	return u.Say("What the spray of %s did is not known.", day)
}

// goBack is [PlainGoBack] of a field, whose day may be past by the newest visit to others.
func goBack(f *compare.Field, u figures.Units) string {
	if f.Overdue() {
		return u.Say("Go back at once: it was due by %s.", u.Day(f.Next.GoBackBy))
	}
	return PlainGoBack(f.Next, u)
}

// PlainGoBack is the day to go back by, and why.
func PlainGoBack(n compare.Next, u figures.Units) string {
	text := u.Say("Go back by %s: %s.", u.Day(n.GoBackBy), plainCause(n.Why, u))
	if n.MapLook > n.GoBackBy {
		text += " " + u.Say("The map by itself says %s.", u.Day(n.MapLook))
	}
	return text
}

func plainCause(r compare.Reason, u figures.Units) string {
	switch r.Cause {
	case compare.Colonies:
		return u.Say("colonies are there, so look every %d days", r.Days)
	case compare.QuickGrowth:
		return u.Say("at its fastest, a further %s of the field could be red by then", u.Whole(r.Share))
	case compare.SecondLook:
		return u.Say("the spray of %s wants a second look", u.Day(r.Treated))
	case compare.MapLook:
		return u.Text("the last map asks for a look then")
	case compare.MapGoodUntil:
		return u.Text("the last map is good until then")
	}
	return u.Say("the usual %d days", r.Days)
}

// visitsLookOut is what may make a comparison wrong, and what the map of the last visit says to
// look out for, where its verdict is among those given.
func visitsLookOut(r *compare.Result, f *compare.Field, s *compare.Step, u figures.Units, now []verdict.Verdict) []string {
	var unlike []string
	for _, d := range s.Unlike {
		if d.In == compare.Stages {
			continue // a crop grows from week to week, which asks nothing; the details tell it
		}
		unlike = append(unlike, unlikeIn(d.In, u))
	}
	differ := ""
	if len(unlike) > 0 {
		differ = u.Say("The visits differ in %s.", joinedIn(u, unlike))
	}
	ofMap := mapLookOut(f, u, now)
	unread := unreadIn(u, notNamed(f, s, u, now)...)
	held := ""
	if s.Basis == compare.Regrowth {
		held = u.Text("What was sprayed before may still be held back.")
	}
	all := slices.Concat([]string{fallenOf(fallenIn(r, f, s, len(ofMap) > 0), r.Statistic, u), longBetween(s, u)}, ofMap, []string{unread, differ, held})
	var said []string
	for _, text := range sentencesOf(all...) {
		if !slices.Contains(said, text) {
			said = append(said, text)
		}
	}
	return said
}

// mapLookOut is what the map of the last visit says to look out for; of a later one of which
// nothing was read, the rows.
func mapLookOut(f *compare.Field, u figures.Units, now []verdict.Verdict) []string {
	v, judged := verdict.On(now, f.Name)
	switch last := lastOf(f); {
	case judged && v.NoneRead():
		return sentencesOf(notReadOf(v, u))
	case judged && last.Of != nil:
		return lookOut(last.Of, last.Assess, v, u)
	}
	return nil
}

// notNamed are the visits of a step of which the map of the last does not name the rows that were
// not read.
func notNamed(f *compare.Field, s *compare.Step, u figures.Units, now []verdict.Verdict) []*compare.Visit {
	from, to := f.Visits[s.From], f.Visits[s.To]
	v, judged := verdict.On(now, f.Name)
	if judged && !v.NoneRead() && to == lastOf(f) && to.Of != nil && notReadOf(v, u) != "" {
		return []*compare.Visit{from}
	}
	return []*compare.Visit{from, to}
}

// fallenIn are the hot stops that had next to nothing soon after, from one visit of a step to the other
// and within each, as its map asks about them; not within the last one where its map was asked.
func fallenIn(r *compare.Result, f *compare.Field, s *compare.Step, asked bool) []assess.Fallen {
	within := func(v *compare.Visit) []assess.Fallen { return v.Assess.Fallen(r.Statistic, v.Levels.TreatAt) }
	all := slices.Concat(s.Fallen, within(f.Visits[s.From]))
	if !asked {
		all = append(all, within(f.Visits[s.To])...)
	}
	return all
}

// longApart is from how many days between visits on a growth says little: no season's pest
// grows so long undisturbed. Our choice, no source.
const longApart = 60

// longBetween asks about visits that lie further apart than those of one season.
func longBetween(s *compare.Step, u figures.Units) string {
	if s.Days <= longApart {
		return ""
	}
	return u.Say("The visits are %s apart. Growth over so long tells nothing of today's: is a year wrong?", daysIn(s.Days, u))
}

func unlikeIn(k compare.Difference, u figures.Units) string {
	switch k {
	case compare.Observers:
		return u.Text("who counted")
	case compare.LeafRules:
		return u.Text("which leaves")
	case compare.Stages:
		return u.Text("growth stage")
	case compare.LevelPairs:
		return u.Text("spray and watch levels")
	case compare.CutKinds, compare.CutValues:
		return u.Text("how the map was cut")
	case compare.Effort:
		return u.Text("how much was counted at a stop")
	}
	return u.Text("the number of stops")
}

// unreadIn is how much of visits was not read; "" where all was.
func unreadIn(u figures.Units, visits ...*compare.Visit) string {
	if lack := lackOf(visits, u); lack != nil {
		return u.Say("%s could not be read, so this may be wrong.", joinedIn(u, lack))
	}
	return ""
}
