package report

import (
	"fmt"
	"math"
	"strings"

	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// A Plain is what is said of a field before any figures, in whole sentences.
type Plain struct {
	Answer             string
	Why, Sure, LookOut []string // none where there is nothing to say
}

// PlainOf says a verdict of a field of a result, which is that of the field.
func PlainOf(r *assess.Result, f *assess.Field, v verdict.Verdict, u figures.Units) Plain {
	p := Plain{Answer: PlainAnswer(v, u), LookOut: lookOut(r, f, v, u)}
	if v.NoneRead() {
		p.Why = []string{u.Text("None of its stops could be read. Nothing here says it is clear.")}
		return p
	}
	p.Why = sentencesOf(PlainWhy(v, u), PlainCosts(v, u))
	p.Sure = sentencesOf(PlainAverage(v, r.Statistic, u), PlainTrust(v, f.Trust, r.Survey.Pest, u), outsideRed(f, u))
	return p
}

func sentencesOf(all ...string) (out []string) {
	for _, s := range all {
		if s != "" {
			out = append(out, s)
		}
	}
	return out
}

// PlainAnswer is what to do today and when to look again, with the area.
func PlainAnswer(v verdict.Verdict, u figures.Units) string {
	switch v.Kind {
	case verdict.SpotSpray:
		return sentenced(u.Say("Spray the red ground, %s, %s.", u.Area(v.TreatArea), sprayBy(v, u)), orLookAgain(v, u), overWithASpot(v, u))
	case verdict.TreatWhole:
		return sentenced(u.Say("Spray the whole field, %s, %s.", u.Area(v.Area), sprayBy(v, u)), orLookAgain(v, u))
	case verdict.LookAgain:
		return sentenced(u.Say("Do not spray yet; %s.", plainNext(v, "on", u)), paysAt(v, u))
	case verdict.NoSpray:
		return u.Say("Do not spray; %s.", plainNext(v, "on", u))
	}
	return sentenced(u.Say("Not decided yet: %s.", toSettle(v, u)), plainOtherwise(v, u))
}

// paysAt says from where on a treatment pays, where prices tell another level than that to
// spray at.
func paysAt(v verdict.Verdict, u figures.Units) string {
	if v.Costs == nil || !(v.PaysAt > 0) || v.PaysAt == v.Treat {
		return ""
	}
	return u.Say("With these prices a treatment pays at %s or more.", u.Short(v.PaysAt))
}

// WholeDue says that a rule by the mean asks for more than the red ground.
const WholeDue = "The rule alone would spray the whole field: the average is at or over the spray level."

// overWithASpot is a spot spray where the rule's own mean asks for the whole field.
func overWithASpot(v verdict.Verdict, u figures.Units) string {
	if !wholeDue(v) {
		return ""
	}
	return u.Text(WholeDue)
}

func wholeDue(v verdict.Verdict) bool {
	return v.Kind == verdict.SpotSpray && v.Stats.Mean >= v.Treat
}

// toSettle is what has to be done today so that it can be decided.
func toSettle(v verdict.Verdict, u figures.Units) string {
	v.Where = u.Text(strings.ReplaceAll(v.Where, "each of these", "each hot stop"))
	v.Where = strings.ReplaceAll(v.Where, fmt.Sprintf("%d m", fieldstats.EdgeStrip), u.Distance(fieldstats.EdgeStrip))
	if v.Line == verdict.InShut {
		return outlineOrPlace(v.Shut[0], u)
	}
	if v.Line != verdict.Unread {
		if v.More == 0 {
			return u.Text("count more stops today")
		}
		return u.Say("%s, today", walk(v, u))
	}
	text := inDoubtToday(v, u)
	if v.More > 0 {
		text += u.Say(". Also %s", walk(v, u))
	}
	return text
}

// inDoubtToday says what is in doubt, and to find it out or count again today.
func inDoubtToday(v verdict.Verdict, u figures.Units) string {
	rows, moved, shared := unreadRows(v.Unread), displaced(v.Unread), len(v.Shared)
	switch n := len(rows) + len(moved) + shared; {
	case n == 1 && shared == 1:
		return u.Text("one place has two counts; find out which holds or count there again today")
	case n == 1 && len(moved) == 1:
		return u.Say("stop %s has no place of its own; find out where it was or count it again today", moved[0].Rows[0].Row.Stop)
	case n == 1 && !rows[0].Shifted:
		return u.Say("%s could not be read; find it out or count it again today", lacks(rows[0], u))
	case n == 1:
		return u.Text("a row could not be read; find it out or count it again today")
	case n == len(rows):
		return u.Say("%d rows could not be read; find them out or count them again today", n)
	case n == len(moved):
		return u.Say("%d stops have no place of their own; find out where they were or count them again today", n)
	case n == shared:
		return u.Say("%d places have two counts; find out which hold or count there again today", n)
	default:
		return u.Say("%d counts are in doubt; find them out or count them again today", n)
	}
}

// plainOtherwise is what to do where that cannot be done today.
func plainOtherwise(v verdict.Verdict, u figures.Units) string {
	switch v.Instead {
	case verdict.SpotSpray:
		return sentenced(u.Say("If you cannot, spray the red ground, %s, %s.", u.Area(v.TreatArea), sprayBy(v, u)), orLookAgain(v, u))
	case verdict.TreatWhole:
		return sentenced(u.Say("If you cannot, spray the whole field, %s, %s.", u.Area(v.Area), sprayBy(v, u)), orLookAgain(v, u))
	}
	return Sentence(plainNext(v, "by", u)) + "."
}

// sprayBy is the last day to spray on without another look, a clause: that of the next look.
func sprayBy(v verdict.Verdict, u figures.Units) string {
	switch {
	case v.Stale:
		return u.Text("but first count the old stops again today")
	case v.On != "":
		return u.Say("by %s", u.Day(v.On))
	}
	return u.Say("within %s", u.Counted(int(v.Days), "day"))
}

// orLookAgain is what to do where nobody sprays by then; "" where there is another count first.
func orLookAgain(v verdict.Verdict, u figures.Units) string {
	if v.Stale {
		return ""
	}
	return u.Text("If it is not sprayed by then, look again.")
}

// AfterSpray is when to look again after a spray, which the job sheet tells: the time until
// people may go in is on the label, and is never named.
const AfterSpray = "After a spray, look again once the label lets you in."

// plainNext is when to look again, on a day or by it.
func plainNext(v verdict.Verdict, day string, u figures.Units) string {
	switch {
	case v.Stale:
		return u.Text(countAgain)
	case v.On != "" && day == "by":
		return u.Say("look again by %s", u.Day(v.On))
	case v.On != "":
		return u.Say("look again on %s", u.Day(v.On))
	case day == "by":
		return u.Say("look again within %s", u.Counted(int(v.Days), "day"))
	}
	return u.Say("look again in %s", u.Counted(int(v.Days), "day"))
}

// PlainWhy says why, by the line that decided.
func PlainWhy(v verdict.Verdict, u figures.Units) string {
	part := u.Part(v.TreatArea / v.Area)
	switch v.Line {
	case verdict.Unread:
		switch read := len(unreadRows(v.Unread)) > 0; {
		case read:
		case v.Without != verdict.None && len(v.Unread) > 0:
			return u.Say("What is in doubt could change the answer; the other stops alone say %q.", withoutSays(v.Without, u))
		case v.Without != verdict.None:
			return u.Say("What is in doubt could change the answer; both counts together say %q.", withoutSays(v.Without, u))
		default:
			return u.Text("What is in doubt could change the answer.")
		}
		if v.Without != verdict.None {
			return u.Say("What was not read could change the answer; the other stops alone say %q.", withoutSays(v.Without, u))
		}
		return u.Text("What was not read could change the answer.")
	case verdict.InShut:
		return u.Say("A stop at the spray level was left out; the other stops alone say %q.", withoutSays(v.Without, u))
	case "few-inside":
		return u.Text("Too few stops lie inside the field; edges are worse than the rest.")
	case "does-not-pay":
		return u.Text("Spraying would cost more than it saves.")
	case "not-infested-enough":
		return u.Text("The average is at or over the spray level, but the rule asks for more infested plants.")
	case "unscouted-much":
		return u.Say("Nobody has been near %s of the field.", u.Part(v.Unscouted/v.Area))
	case "spread-unknown":
		return u.Text("There are too few stops to say how sure the average is.")
	case "few-for-a-map":
		return u.Say("%s at or over the spray level, but there are too few stops for a map.", stopsAre(v.Over, u))
	case "edge-hot":
		return u.Text("All hot stops stand at the edge, and edges are worse than the field.")
	case "over-by-edge":
		return u.Text("The edge takes the average over the spray level; inside, it is below.")
	case "spot-costs-more":
		return u.Text("Spraying the red ground alone would cost no less.")
	case "large-share":
		return u.Say("The red ground covers %s of the field.", part)
	case "mean-over":
		return u.Say("%s, and the map does not tell which part to spray.", overWhere(v, u))
	case "whole-though-more":
		return u.Say("%s, and spraying the red ground alone should cost no less.", overWhere(v, u))
	case "whole-close":
		return u.Text("Spraying all of it should cost least in the end, but it is a close call.")
	case "whole":
		return u.Text("Spraying all of it should cost least in the end.")
	case "part-only":
		return u.Text("The stops stand in a part of the field only.")
	case "whole-or-zone":
		return u.Say("%s, but the map may be wrong about where.", overWhere(v, u))
	case "by-one-stop":
		return u.Say("%s by one stop alone; without it, it is %s.", overWhere(v, u), levelled(v, v.MeanWithout))
	case "patch":
		return u.Text("Stops round a hot one are hot as well, so it is a patch, not one bad place.")
	case "single":
		if v.Walked > 1 {
			return u.Text("The hot stops were walked round: each is just one bad place.")
		}
		return u.Text("The hot stop was walked round: it is just one bad place.")
	case "walked":
		return u.Text("The hot stops were walked round, and spraying the red should cost least in the end.")
	case "single-places", "one-over", "few-over", "one-spot":
		if v.Over == 1 {
			return u.Text("1 stop is at or over the spray level, but it may be just one bad place.")
		}
		return u.Say("%s at or over the spray level, but each may be just one bad place.", stopsAre(v.Over, u))
	case "spot":
		if v.Over == 1 {
			return u.Say("The hot spot rests on 1 stop and covers %s of the field.", part)
		}
		return u.Say("The map beats the average, and its red covers %s of the field.", part)
	case "leave":
		return u.Say("%s at or over the spray level, but spraying is not clearly worth it.", stopsAre(v.Over, u))
	case "unscouted":
		return u.Say("Nobody has been near %s, so the field cannot be called clear.", u.Area(v.Unscouted))
	case "grows":
		if v.Warm > 0 {
			return u.Say("No stop is at the spray level yet, but %d %s high enough to watch.", v.Warm, isOrAre(v.Warm, u))
		}
		return u.Text("No stop is at the spray level yet, but the average could be high enough to watch.")
	case "watched":
		return u.Text("All stops are below the watch level, but the map is not.")
	case "few-stops":
		return u.Text("All stops are below the watch level, but too few to call the field clear.")
	case "below":
		return u.Text("All stops are below the watch level.")
	}
	return u.Text("The counts do not tell enough.")
}

func withoutSays(k verdict.Kind, u figures.Units) string {
	switch k {
	case verdict.SpotSpray:
		return u.Text("spray the red ground")
	case verdict.TreatWhole:
		return u.Text("spray the whole field")
	case verdict.LookAgain:
		return u.Text("do not spray yet")
	case verdict.NoSpray:
		return u.Text("do not spray")
	}
	return u.Text("not decided yet")
}

func stopsAre(n int, u figures.Units) string { return u.Counted(n, "stop") + " " + isOrAre(n, u) }

func isOrAre(n int, u figures.Units) string {
	if n == 1 {
		return u.Text("is")
	}
	return u.Text("are")
}

// overWhere says which mean is at or above the threshold.
func overWhere(v verdict.Verdict, u figures.Units) string {
	if v.Stats.Mean >= v.Treat {
		return u.Text("The average is at or over the spray level")
	}
	return u.Text("Away from the edge the average is at or over the spray level")
}

// PlainCosts sets the choices beside spraying everything, with what is lost where nothing
// is sprayed; "" where that is not what decided.
func PlainCosts(v verdict.Verdict, u figures.Units) string {
	if !v.Sums.Known() || v.Line != "spot" && v.Line != "leave" && v.Line != "whole" {
		return ""
	}
	costs := []float64{v.Sums.Nothing / v.Sums.Whole}
	if v.Sums.HasZone() {
		costs = append(costs, v.Sums.Zone/v.Sums.Whole)
	}
	parts := u.Parts(costs...)
	nothing, short := ofAll(costs[0], parts[0], u)
	text := u.Say("Counting crop loss, doing nothing costs %s spraying it all.", nothing)
	saves := math.Inf(1)
	if v.Sums.HasZone() {
		zone, _ := ofAll(costs[1], parts[1], u)
		text = u.Say("Counting crop loss, spraying the red costs %s spraying it all; doing nothing %s.", zone, short)
		if saves = costs[0] - costs[1]; math.Abs(saves) < little {
			text = u.Say("Counting crop loss, it makes no difference: spraying the red costs %s spraying it all, and so does doing nothing.", zone)
		}
		if v.Margin > 0 {
			text += " " + u.Say("That leaves out the margin of %s.", u.Length(v.Margin))
		}
	}
	switch {
	case math.Abs(saves) < little:
	case v.Line == "leave" && saves > 0 && !math.IsInf(saves, 1):
		text += " " + u.Text("That saves too little.")
	case v.Close:
		text += " " + u.Text("It is a close call.")
	}
	return text
}

// ofAll is how much something costs by what another thing does, before the other is named
// and where it is not named again; part is the ratio in words.
func ofAll(ratio float64, part string, u figures.Units) (before, short string) {
	switch {
	case ratio < 0.02:
		return u.Text("about a fiftieth or less of"), u.Text("about a fiftieth or less")
	case ratio <= 0.95:
		return u.Say("about %s of", part), u.Say("about %s", part)
	case ratio < 1.05:
		return u.Text("about as much as"), u.Text("about as much as spraying it all")
	}
	return u.Say("%s times as much as", twoDigits(ratio)), u.Say("%s times as much as spraying it all", twoDigits(ratio))
}

// PlainAverage sets the mean against the level, with how far off it may be.
func PlainAverage(v verdict.Verdict, s assess.Statistic, u figures.Units) string {
	if v.Stats.Max == 0 && v.Stats.Stops > 1 && !v.Stats.Layout.Partial() {
		return u.Say("None found at any of %s.", u.Counted(v.Stats.Stops, "stop"))
	}
	mean := u.Say("Average %s %s, spray at %s", levelled(v, v.Stats.Mean), u.Each(s.Unit), u.Level(v.Treat))
	if s.Share() {
		mean = u.Say("Average %s %s, spray at %s", levelled(v, v.Stats.Mean), s.In(u.Language()), u.Level(v.Treat))
	}
	switch i := v.Stats.Interval; {
	case v.Stats.Layout.Partial():
		return u.Say("%s, but the stops speak for a part of the field only.", mean)
	case !i.Known() && v.Stats.Stops > 1 && v.Stats.Variance == 0:
		return u.Say("%s; all stops say the same.", mean)
	case !i.Known():
		return u.Say("%s; how sure that is, nobody knows.", mean)
	case v.Stats.Stops < fewForMean || i.High > wideMean*i.Low:
		return loosely(mean, v, u)
	default:
		if i.High <= alike*i.Low && (alike*i.High < v.Treat || i.Low >= alike*v.Treat) {
			return u.Say("%s; with these stops it is about %s.", mean, figures.Short(coarse(v.Stats.Mean, math.Round)))
		}
		low, high := Outward(i.Low, i.High, v.Treat)
		return u.Say("%s; with these stops it could be anywhere from %s to %s.", mean, low, high)
	}
}

// A mean of fewer stops, or one whose interval's ends are further apart than so many times,
// is told by what it says of the level: common practice, no source.
const (
	fewForMean = 12
	wideMean   = 4
	// alike is up to how many times its lower end the upper end of an interval is one number
	// in words, where the level is farther off than that. Judgement, no source.
	alike = 1.05
)

// loosely tells a mean that is not known closely by what it is likely short of, or over;
// where it may be either, by both ends.
func loosely(mean string, v verdict.Verdict, u figures.Units) string {
	i, few := v.Stats.Interval, v.Stats.Stops < fewForMean
	low, high := Outward(i.Low, i.High, v.Treat)
	high = strings.TrimPrefix(high, "<")
	switch {
	case i.High < v.Treat && few:
		return u.Say("%s. That is from few stops: the true average is very likely no more than %s.", mean, high)
	case i.High < v.Treat:
		return u.Say("%s. Stops vary a lot: the true average is very likely no more than %s.", mean, high)
	case i.Low >= v.Treat && few:
		return u.Say("%s. That is from few stops: the true average is very likely %s or more.", mean, low)
	case i.Low >= v.Treat:
		return u.Say("%s. Stops vary a lot: the true average is very likely %s or more.", mean, low)
	case few:
		return u.Say("%s. Too few stops to say if the field is over that: it could be anywhere from %s to %s.", mean, low, high)
	}
	return u.Say("%s. Stops vary too much to say if the field is over that: it could be anywhere from %s to %s.", mean, low, high)
}

// Outward writes the ends of an interval coarsely, never narrower than it is, and on the
// side of a level on which they are.
func Outward(low, high, level float64) (from, to string) {
	l, h := coarse(low, math.Floor), coarse(high, math.Ceil)
	if low >= level && l < level {
		l = low
	}
	if high < level && h >= level {
		return figures.Short(l), Levelled(high, zones.Levels{TreatAt: level, WatchAt: level})
	}
	return figures.Short(l), figures.Short(h)
}

// coarse rounds to whole numbers, below 3 to tenths and below 0.3 to hundredths.
func coarse(v float64, round func(float64) float64) float64 {
	for _, step := range []struct{ from, parts float64 }{{3, 1}, {0.3, 10}, {0, 100}} {
		if v >= step.from {
			return round(v*step.parts) / step.parts
		}
	}
	return v
}

// PlainTrust says what a map is worth where it shows no more than the mean, or nothing is
// there to be shown; nothing where the whole field is sprayed anyhow, or none of it is red.
func PlainTrust(v verdict.Verdict, t assess.Trust, pest string, u figures.Units) string {
	switch {
	case v.Stats.Layout.Partial() || v.Believed || v.Stats.Max == 0 || v.Kind == verdict.TreatWhole:
		return ""
	case t.Quiet && t.Stops >= assess.LeastStops:
		return u.Say("%s anywhere, so there is nothing to map.", few(pest, u))
	case v.TreatArea == 0:
		return ""
	case v.Kind == verdict.SpotSpray || v.Instead == verdict.SpotSpray:
		return u.Text("The map is no better than the average, so the red ground may lie elsewhere.")
	}
	return u.Text("The map is no better than the average, so do not go by its red ground alone.")
}

// few says that there is little of a pest, by its name where its plural is known.
func few(pest string, u figures.Units) string {
	for _, word := range strings.Fields(strings.ToLower(pest)) {
		if word == "aphid" || word == "aphids" {
			return u.Text("Few aphids")
		}
	}
	return u.Text("Few found")
}

// outsideRed says how much ground is likely over the treat level, and how much of it is
// expected outside the treat zone.
func outsideRed(f *assess.Field, u figures.Units) string {
	if f.Chance == nil || f.Map == nil || !f.Trust.Believed() || f.Map.Zone(zones.Treat).Area == 0 {
		return ""
	}
	share := f.Map.Zone(zones.Treat).Area / f.Area
	if outside := OutsideRed(OutsideShare(*f.Chance, share), u); outside != "" {
		return sentenced(BadGround(f, u), outside)
	}
	return ""
}

// OutsideShare is the part of the ground expected over the treat level that lies outside
// the treat zone: of patches that no stop met the zone holds its share of the field, of
// the rest what it is expected to hold. NaN where that is not known.
func OutsideShare(c assess.Chance, zone float64) float64 {
	if c.Expected < nextToNone {
		return math.NaN()
	}
	return (c.Unseen*(1-zone) + (c.Expected-c.Unseen)*(1-c.Caught)) / c.Expected
}

// OutsideRed says such a part in words; "" of none that is known.
func OutsideRed(part float64, u figures.Units) string {
	switch {
	case math.IsNaN(part):
		return ""
	case part < 0.02:
		return u.Text("Hardly any of the bad ground lies outside the red.")
	}
	return u.Say("About %s of the bad ground lies outside the red.", u.Part(part))
}
