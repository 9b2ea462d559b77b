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
	p := Plain{Answer: PlainAnswer(v, u), LookOut: lookOut(f, v, u)}
	if v.NoneRead() {
		p.Why = []string{"None of its stops could be read. Nothing here says it is clear."}
		return p
	}
	spots := 1
	if f.Map != nil {
		spots = len(f.Map.Zone(zones.Treat).Polygons)
	}
	p.Why = sentencesOf(PlainWhy(v, spots, u), PlainCosts(v))
	p.Sure = sentencesOf(PlainAverage(v, r.Statistic), PlainTrust(v, f.Trust, r.Survey.Pest), outsideRed(f, u))
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
		return fmt.Sprintf("Spray the red ground, %s, and %s.", u.Area(v.TreatArea), plainNext(v, "on"))
	case verdict.TreatWhole:
		return fmt.Sprintf("Spray the whole field, %s, and %s.", u.Area(v.Area), plainNext(v, "on"))
	case verdict.LookAgain:
		return fmt.Sprintf("Do not spray yet; %s.", plainNext(v, "on"))
	case verdict.NoSpray:
		return fmt.Sprintf("Do not spray; %s.", plainNext(v, "on"))
	}
	return sentenced("Not decided yet: "+toSettle(v, u)+".", plainOtherwise(v, u))
}

// toSettle is what has to be done today so that it can be decided.
func toSettle(v verdict.Verdict, u figures.Units) string {
	v.Where = strings.ReplaceAll(v.Where, fmt.Sprintf("%d m", fieldstats.EdgeStrip), u.Distance(fieldstats.EdgeStrip))
	v.Where = strings.ReplaceAll(v.Where, "each of these", "each hot stop")
	if v.Line != verdict.Unread {
		if v.More == 0 {
			return "count more stops today"
		}
		return walk(v) + ", today"
	}
	rows := unreadRows(v.Unread)
	text := "a row could not be read; find it out or count it again today"
	switch {
	case len(rows) == 1 && !rows[0].Shifted:
		text = lacks(rows[0]) + " could not be read; find it out or count it again today"
	case len(rows) > 1:
		text = fmt.Sprintf("%d rows could not be read; find them out or count them again today", len(rows))
	}
	if v.More > 0 {
		text += ". Also " + walk(v)
	}
	return text
}

// plainOtherwise is what to do where that cannot be done today.
func plainOtherwise(v verdict.Verdict, u figures.Units) string {
	switch v.Instead {
	case verdict.SpotSpray:
		return fmt.Sprintf("If you cannot, spray the red ground, %s, and %s.", u.Area(v.TreatArea), plainNext(v, "by"))
	case verdict.TreatWhole:
		return fmt.Sprintf("If you cannot, spray the whole field, %s, and %s.", u.Area(v.Area), plainNext(v, "by"))
	}
	return Sentence(plainNext(v, "by")) + "."
}

// plainNext is when to look again, on a day or by it.
func plainNext(v verdict.Verdict, day string) string {
	switch {
	case v.Stale:
		return countAgain
	case v.On != "":
		return fmt.Sprintf("look again %s %s", day, figures.Day(v.On))
	case day == "by":
		return "look again within " + figures.Counted(int(v.Days), "day")
	}
	return "look again in " + figures.Counted(int(v.Days), "day")
}

// PlainWhy says why, by the line that decided; spots are the patches of treat ground.
func PlainWhy(v verdict.Verdict, spots int, u figures.Units) string {
	part := figures.Part(v.TreatArea / v.Area)
	switch v.Line {
	case verdict.Unread:
		if v.Without != verdict.None {
			return fmt.Sprintf("What was not read could change the answer; the other stops alone say %q.", withoutSays(v.Without))
		}
		return "What was not read could change the answer."
	case "few-inside":
		return "Too few stops lie inside the field; edges are worse than the rest."
	case "does-not-pay":
		return "Spraying would cost more than it saves."
	case "not-infested-enough":
		return "The average is at or over the spray level, but the rule asks for more infested plants."
	case "unscouted-much":
		return fmt.Sprintf("Nobody has been near %s of the field.", figures.Part(v.Unscouted/v.Area))
	case "spread-unknown":
		return "There are too few stops to say how sure the average is."
	case "few-for-a-map":
		return fmt.Sprintf("%s at or over the spray level, but there are too few stops for a map.", stopsAre(v.Over))
	case "edge-hot":
		return "All hot stops stand at the edge, and edges are worse than the field."
	case "over-by-edge":
		return "The edge takes the average over the spray level; inside, it is below."
	case "spot-costs-more":
		return "Spraying the red ground alone would cost no less."
	case "large-share":
		return fmt.Sprintf("The red ground covers %s of the field.", part)
	case "mean-over":
		return overWhere(v) + ", and there is no map to go by."
	case "whole-though-more":
		return overWhere(v) + ", and spraying the red ground alone should cost no less."
	case "whole-close":
		return "Spraying all of it should cost least in the end, but it is a close call."
	case "whole":
		return "Spraying all of it should cost least in the end."
	case "part-only":
		return "The stops stand in a part of the field only."
	case "whole-or-zone":
		return overWhere(v) + ", but the map may be wrong about where."
	case "single-places", "one-over", "few-over":
		if v.Over == 1 {
			return "1 stop is at or over the spray level, but it may be just one bad place."
		}
		return fmt.Sprintf("%s at or over the spray level, but each may be just one bad place.", stopsAre(v.Over))
	case "spot":
		if spots > 1 {
			return fmt.Sprintf("The hot spots are real and cover %s of the field.", part)
		}
		return fmt.Sprintf("The hot spot is real and covers %s of the field.", part)
	case "leave":
		return fmt.Sprintf("%s at or over the spray level, but spraying is not clearly worth it.", stopsAre(v.Over))
	case "unscouted":
		return fmt.Sprintf("Nobody has been near %s, so the field cannot be called clear.", u.Area(v.Unscouted))
	case "grows":
		if v.Warm > 0 {
			return fmt.Sprintf("No stop is at the spray level yet, but %d %s high enough to watch.", v.Warm, isOrAre(v.Warm))
		}
		return "No stop is at the spray level yet, but the average could be high enough to watch."
	case "watched":
		return "All stops are below the watch level, but the map is not."
	case "few-stops":
		return "All stops are below the watch level, but too few to call the field clear."
	case "below":
		return "All stops are below the watch level."
	}
	return "The counts do not tell enough."
}

func withoutSays(k verdict.Kind) string {
	switch k {
	case verdict.SpotSpray:
		return "spray the red ground"
	case verdict.TreatWhole:
		return "spray the whole field"
	case verdict.LookAgain:
		return "do not spray yet"
	case verdict.NoSpray:
		return "do not spray"
	}
	return "not decided yet"
}

func stopsAre(n int) string { return figures.Counted(n, "stop") + " " + isOrAre(n) }

func isOrAre(n int) string {
	if n == 1 {
		return "is"
	}
	return "are"
}

// overWhere says which mean is at or above the threshold.
func overWhere(v verdict.Verdict) string {
	if v.Stats.Mean >= v.Treat {
		return "The average is at or over the spray level"
	}
	return "Away from the edge the average is at or over the spray level"
}

// PlainCosts sets the choices beside spraying everything, with what is lost where nothing
// is sprayed; "" where that is not what decided.
func PlainCosts(v verdict.Verdict) string {
	if !v.Sums.Known() || v.Line != "spot" && v.Line != "leave" && v.Line != "whole" {
		return ""
	}
	nothing := ofAll(v.Sums.Nothing / v.Sums.Whole)
	text := fmt.Sprintf("Counting crop loss, doing nothing costs about %s spraying it all.", nothing)
	if v.Sums.HasZone() {
		text = fmt.Sprintf("Counting crop loss, spraying the red costs about %s spraying it all; doing nothing about %s.", ofAll(v.Sums.Zone/v.Sums.Whole), strings.TrimSuffix(strings.TrimSuffix(nothing, " of"), " as"))
	}
	if v.Close {
		text += " It is a close call."
	}
	return text
}

// ofAll is how much something costs by what another thing does.
func ofAll(ratio float64) string {
	switch {
	case ratio < 0.02:
		return "a fiftieth or less of"
	case ratio <= 0.95:
		return figures.Part(ratio) + " of"
	case ratio < 1.05:
		return "as much as"
	}
	return twoDigits(ratio) + " times as much as"
}

// PlainAverage sets the mean against the level, with how far off it may be.
func PlainAverage(v verdict.Verdict, s assess.Statistic) string {
	if v.Stats.Max == 0 && v.Stats.Stops > 1 && !v.Stats.Layout.Partial() {
		return fmt.Sprintf("None found at any of %s.", figures.Counted(v.Stats.Stops, "stop"))
	}
	mean := fmt.Sprintf("Average %s %s, spray at %s", levelled(v, v.Stats.Mean), each(s), figures.Short(v.Treat))
	if s.Share() {
		mean = fmt.Sprintf("Average %s %s, spray at %s", levelled(v, v.Stats.Mean), s, figures.Short(v.Treat))
	}
	switch i := v.Stats.Interval; {
	case v.Stats.Layout.Partial():
		return mean + ", but the stops tell of a part of the field only."
	case !i.Known() && v.Stats.Stops > 1 && v.Stats.Variance == 0:
		return mean + "; all stops say the same."
	case !i.Known():
		return mean + "; how sure that is cannot be told."
	default:
		low, high := Outward(i.Low, i.High, v.Treat)
		return fmt.Sprintf("%s; with these stops it could be anywhere from %s to %s.", mean, low, high)
	}
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
func PlainTrust(v verdict.Verdict, t assess.Trust, pest string) string {
	switch {
	case v.Stats.Layout.Partial() || v.Believed || v.Stats.Max == 0 || v.Kind == verdict.TreatWhole:
		return ""
	case t.Quiet && t.Stops >= assess.LeastStops:
		return fmt.Sprintf("%s anywhere, so there is nothing to map.", few(pest))
	case v.TreatArea == 0:
		return ""
	}
	return "The map is no better than the average, so do not go by its red ground alone."
}

// few says that there is little of a pest, by its name where its plural is known.
func few(pest string) string {
	for _, word := range strings.Fields(strings.ToLower(pest)) {
		if word == "aphid" || word == "aphids" {
			return "Few aphids"
		}
	}
	return "Few found"
}

// outsideRed says how much ground over the treat level is expected outside the treat zone.
func outsideRed(f *assess.Field, u figures.Units) string {
	if f.Chance == nil || f.Map == nil || !f.Trust.Believed() || f.Map.Zone(zones.Treat).Area == 0 {
		return ""
	}
	share := f.Map.Zone(zones.Treat).Area / f.Area
	return OutsideRed(OutsideShare(*f.Chance, share), u)
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
	unit := "hectare"
	if u == figures.US {
		unit = "acre"
	}
	switch {
	case math.IsNaN(part):
		return ""
	case part < 0.02:
		return "Hardly any of the bad ground lies outside the red."
	case part < 0.4:
		return fmt.Sprintf("About 1 %s in %.0f of the bad ground lies outside the red.", unit, 1/part)
	}
	return fmt.Sprintf("About %s of the bad ground lies outside the red.", figures.Part(part))
}
