package report

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/decision"
	"github.com/geocoris/geocoris/internal/mapping/fieldstats"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// verdictWidth is how long the lines of a verdict's paragraph may be.
const verdictWidth = 120

// VerdictHeading is the answer itself, in a few words: what to do today, when to look
// next, and what was not read.
func VerdictHeading(v verdict.Verdict, u figures.Units) string {
	return strings.Join(append([]string{answer(v, u)}, notRead(v)...), "; ")
}

// answer says what to do today and when to look next; the reason is that of the line
// that decided.
func answer(v verdict.Verdict, u figures.Units) string {
	switch v.Kind {
	case verdict.Undecided:
		return undecided(v, u)
	case verdict.SpotSpray:
		return fmt.Sprintf("%s %s, the %s zone; %s", VerdictWord(v.Kind), u.Area(v.TreatArea), ZoneWord(zones.Treat), next(v, "after"))
	case verdict.TreatWhole:
		return fmt.Sprintf("%s; %s", because(VerdictWord(v.Kind), v.Says), next(v, "after"))
	case verdict.LookAgain:
		return fmt.Sprintf("%s; %s", because("do not spray now", v.Says), next(v, "in"))
	}
	return fmt.Sprintf("%s; %s", because(VerdictWord(v.Kind), v.Says), next(v, "in"))
}

// countAgain is what is to be done where the first counts were too old when the last
// were taken.
const countAgain = "count the old stops again today"

// next is when to look again.
func next(v verdict.Verdict, days string) string {
	if v.Stale {
		return countAgain
	}
	look := "look again " + on(v, "on", days)
	if v.Kind == verdict.SpotSpray || v.Kind == verdict.TreatWhole {
		look += notByThen
	}
	return look
}

// notByThen is said of the day of the next look where ground is to be sprayed: after a spray
// the label tells when people may go in.
const notByThen = " if not sprayed by then"

// otherwise is what to do, and when to look again, where what is to be done today cannot
// be.
func otherwise(v verdict.Verdict, u figures.Units) string {
	look, unless := "look again "+on(v, "by", "within"), notByThen
	if v.Stale {
		look, unless = countAgain, ""
	}
	switch v.Instead {
	case verdict.SpotSpray:
		return fmt.Sprintf("else spot spray %s, the treat zone; %s", u.Area(v.TreatArea), look+unless)
	case verdict.TreatWhole:
		return fmt.Sprintf("else treat the whole field; %s", look+unless)
	}
	if v.Stale {
		return look
	}
	return "else " + look
}

// undecided says what is to be done today so that it can be decided.
func undecided(v verdict.Verdict, u figures.Units) string {
	if v.Line == verdict.Unread || v.Line == verdict.InShut {
		text, first := otherwise(v, u), ""
		if v.Line == verdict.InShut {
			first = outlineOrPlace(v.Shut[0], u)
		} else {
			first = findOut(v, u)
		}
		if v.Instead != verdict.SpotSpray && v.Instead != verdict.TreatWhole {
			text = strings.TrimPrefix(text, "else ")
		}
		return fmt.Sprintf("%s: %s; %s", VerdictWord(v.Kind), first, text)
	}
	return fmt.Sprintf("%s; %s, today; %s", because(VerdictWord(v.Kind), v.Says), walk(v, u), otherwise(v, u))
}

// walk says how many more stops to walk, and where: round which, where that is known.
func walk(v verdict.Verdict, u figures.Units) string {
	text := u.Say("walk %s", u.Counted(v.More, "more stop"))
	switch len(v.Round) {
	case 0:
		return strings.TrimSpace(text + " " + u.Text(v.Where))
	case 1:
		return u.Say("%s round stop %s", text, v.Round[0])
	}
	last := len(v.Round) - 1
	return u.Say("%s round stops %s and %s", text, strings.Join(v.Round[:last], ", "), v.Round[last])
}

func because(answer, why string) string {
	if why == "" {
		return answer
	}
	return answer + ": " + why
}

// on is the day of the next look, or how many days until then.
func on(v verdict.Verdict, day, days string) string {
	if v.On != "" {
		return day + " " + v.On
	}
	return days + " " + figures.Counted(int(v.Days), "day")
}

// VerdictReasons are the reasons in numbers, a clause each, after the reason of the
// line that decided.
func VerdictReasons(v verdict.Verdict, u figures.Units) []string {
	reasons := append([]string{v.Why}, rowsNotRead(v)...)
	if v.NoneRead() {
		return reasons
	}
	reasons = append(reasons, meanAgainst(v), ground(v, u), found(v))
	if v.Believed {
		reasons = append(reasons, fmt.Sprintf("the map's skill is %s", figures.Short(v.Skill)))
	} else {
		reasons = append(reasons, "the map is no better than the field's mean")
	}
	for _, more := range []string{expected(v), moreStops(v, u), growth(v), onEdge(v), money(v)} {
		if more != "" {
			reasons = append(reasons, more)
		}
	}
	switch {
	case v.Kind != verdict.SpotSpray || v.Stats.Mean < v.Treat:
	case v.Low >= v.Treat:
		reasons = append(reasons, "the mean is surely over the threshold: by its own statistic the rule asks for the whole field")
	default:
		reasons = append(reasons, "the mean is over the threshold, though not surely: by its own statistic the rule asks for the whole field")
	}
	if v.Kind == verdict.SpotSpray && v.AllOver {
		reasons = append(reasons, "spot sprays against pests that colonise fast often failed (Univ. of Minnesota; Iowa State Univ.), so come back on the day")
	}
	if v.Kind == verdict.SpotSpray {
		reasons = append(reasons, "treating the whole field stays a choice")
	}
	return reasons
}

func meanAgainst(v verdict.Verdict) string {
	s := fmt.Sprintf("mean %s against a threshold of %s", levelled(v, v.Stats.Mean), figures.Level(v.Treat))
	switch i := v.Stats.Interval; {
	case v.Stats.Layout.Partial():
		return fmt.Sprintf("mean of the stops %s against a threshold of %s; %s", levelled(v, v.Stats.Mean), figures.Level(v.Treat), SpokenFor(v.Stats.Layout))
	case !i.Known():
		return s + ", how sure is not known"
	default:
		return fmt.Sprintf("%s, with %s confidence %s to %s", s, figures.Percent(v.Stats.Level), levelled(v, i.Low), levelled(v, i.High))
	}
}

// levelled writes a mean beside the levels of a verdict.
func levelled(v verdict.Verdict, mean float64) string {
	return Levelled(mean, zones.Levels{TreatAt: v.Treat, WatchAt: v.Watch})
}

func ground(v verdict.Verdict, u figures.Units) string {
	s := "there is no treat ground"
	if v.TreatArea > 0 {
		s = figures.Share(v.TreatArea/v.Area) + " of the field is treat ground"
	}
	if v.Unscouted > 0 {
		return fmt.Sprintf("%s and %s (%s) nobody has been near", s, u.Area(v.Unscouted), figures.Share(v.Unscouted/v.Area))
	}
	return s
}

func found(v verdict.Verdict) string {
	s := fmt.Sprintf("found at %s of %s", figures.Number(int(v.Stats.Found.Hits)), figures.Counted(v.Stats.Stops, "stop"))
	switch {
	case v.LowNumbers:
		s += ", all over the field but at low numbers"
	case v.AllOver:
		s += ", all over the field"
	}
	if !math.IsNaN(v.RestMean) && v.TreatArea > 0 {
		s += fmt.Sprintf(", %s on average outside the treat zone", levelled(v, v.RestMean))
	}
	return s
}

// growth is when the ground that is not sprayed would be at the threshold.
func growth(v verdict.Verdict) string {
	days := v.DaysUntilOver(v.Left())
	if !(days > 0) || math.IsInf(days, 1) {
		return ""
	}
	what := "the mean"
	if v.Left() != v.Stats.Mean {
		what = "the mean outside the treat zone"
	}
	if days < 1 {
		return fmt.Sprintf("doubling every %s days %s would be over within a day", figures.Short(v.Doubling), what)
	}
	return fmt.Sprintf("doubling every %s days %s would be over in %.0f", figures.Short(v.Doubling), what, math.Floor(days))
}

// onEdge tells of the edge where stops stand there.
func onEdge(v verdict.Verdict) string {
	e := v.Stats.Edge
	if e.EdgeStops == 0 {
		return ""
	}
	return fmt.Sprintf("%s on the edge with a mean of %s against %s inside", figures.Counted(e.EdgeStops, "stop"), levelled(v, e.EdgeMean), levelled(v, e.InteriorMean))
}

func money(v verdict.Verdict) string {
	c := v.Costs
	if c == nil {
		return ""
	}
	s := fmt.Sprintf("treating the whole field costs %s", figures.Short(c.Whole))
	if v.TreatArea > 0 {
		s = fmt.Sprintf("a spot job costs %s, the whole field %s", figures.Short(c.Spot), figures.Short(c.Whole))
	}
	if math.IsNaN(c.WholeAverts) {
		return s
	}
	return fmt.Sprintf("%s; it would save %s of the crop, %s of that in the treat zone", s, figures.Short(c.WholeAverts), figures.Short(c.SpotAverts))
}

// expected sets the choices beside one another by what each is expected to cost, the one
// that is to be taken first.
func expected(v verdict.Verdict) string {
	if !v.Sums.Known() {
		return ""
	}
	unit, what := v.Sums.Area, "expected cost in treatments of the field, with what is lost where nothing is sprayed: "
	if v.Costs != nil {
		unit, what = v.Sums.Area/v.Costs.Whole, "expected cost, with what is lost where nothing is sprayed: "
	}
	var parts []string
	for _, c := range inOrder(v) {
		parts = append(parts, choiceName(c)+" "+twoDigits(v.Sums.Of(c)/unit))
	}
	text := what + strings.Join(parts, ", ")
	if v.Margin > 0 && v.Sums.HasZone() {
		text += ", without the margin that was asked for"
	}
	if v.Close {
		text += ", a close call"
	}
	if v.PaysAt != v.Treat && v.PaysAt > 0 {
		return fmt.Sprintf("%s (a treatment pays at %s)", text, figures.Short(v.PaysAt))
	}
	return text + " (a treatment is taken to pay at the threshold)"
}

// inOrder are the choices of a field, the one to be taken today first.
func inOrder(v verdict.Verdict) []decision.Choice {
	k := v.Kind
	if k == verdict.Undecided {
		k = v.Instead
	}
	all := []decision.Choice{k.Choice()}
	for _, c := range []decision.Choice{decision.Zone, decision.Whole, decision.Nothing} {
		if c != all[0] && (c != decision.Zone || v.Sums.HasZone()) {
			all = append(all, c)
		}
	}
	if all[0] == decision.None || all[0] == decision.Zone && !v.Sums.HasZone() {
		all = all[1:]
	}
	return all
}

func choiceName(c decision.Choice) string {
	switch c {
	case decision.Zone:
		return "the treat zone"
	case decision.Whole:
		return "the whole field"
	}
	return "doing nothing"
}

// moreStops is what more stops are worth, and where they are best walked.
func moreStops(v verdict.Verdict, u figures.Units) string {
	var parts []string
	asked := v.Kind == verdict.Undecided && v.More > 0 // then what they save on average is no argument
	if v.Sums.Known() && v.Stats.Stops > 0 && !asked {
		parts = append(parts, saving(v, u))
	}
	switch {
	case asked && v.Anew():
		parts = append(parts, "`geocoris plan` says where to walk them")
	case asked:
		parts = append(parts, "`geocoris plan --after` says where to walk them")
	}
	return strings.Join(parts, "; ")
}

// little is the share of a treatment of the field below which a saving is none.
const little = 0.01

func saving(v verdict.Verdict, u figures.Units) string {
	whole := v.Sums.Area
	if v.Costs != nil {
		whole = v.Costs.Whole
	}
	switch {
	case v.Saves < little*whole:
		return "more stops would change little"
	case v.StopsCost > 0 && v.Saves < v.StopsCost:
		return fmt.Sprintf("%d more stops would cost %s to walk, more than the about %s that they would save on average over such fields", verdict.Further, figures.Short(v.StopsCost), oneDigit(v.Saves))
	case v.Costs != nil:
		return fmt.Sprintf("%d more stops would save about %s, on average over such fields", verdict.Further, oneDigit(v.Saves))
	}
	return fmt.Sprintf("%d more stops would save about as much as treating %s of the field, on average over such fields", verdict.Further, oneDigit(100*v.Saves/whole)+" %")
}

// oneDigit and twoDigits round a number to so many figures.
func oneDigit(v float64) string  { return toFigures(v, 1) }
func twoDigits(v float64) string { return toFigures(v, 2) }

func toFigures(v float64, n int) string {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return fmt.Sprintf("%g", v)
	}
	last := n - 1 - int(math.Floor(math.Log10(math.Abs(v))))
	if last >= 0 {
		return strconv.FormatFloat(v, 'f', min(last, 2), 64)
	}
	ten := math.Pow(10, float64(-last))
	return fmt.Sprintf("%.0f", math.Round(v/ten)*ten)
}

// verdict writes the paragraph, and what the stops say of the field as a whole.
func (s Screen) verdict(b *strings.Builder, field string) {
	for _, v := range s.Verdicts {
		if v.Field != field {
			continue
		}
		fmt.Fprintf(b, "  verdict: %s\n", VerdictHeading(v, s.Units))
		text := strings.Join(VerdictReasons(v, s.Units), "; ")
		if until := GoodUntil(v); until != "" {
			text += "; " + until
		}
		for _, line := range wrapped(text+".", verdictWidth) {
			fmt.Fprintf(b, "    %s\n", line)
		}
		if v.NoneRead() {
			continue
		}
		for _, line := range wrapped(s.stops(v.Stats, field), verdictWidth) {
			fmt.Fprintf(b, "  %s\n", line)
		}
	}
}

// stops tells of scatter, neighbours, and the stop that weighs most.
func (s Screen) stops(d fieldstats.Summary, field string) string {
	parts := []string{fmt.Sprintf("the stops: median %s, variance to mean %s", figures.Short(d.Median), figures.Short(d.VarianceMean))}
	if p := d.AtOrAbove; p != nil {
		parts = append(parts, shareOf(*p, "at or above the tally"))
	}
	if p := d.Infested; p != nil {
		parts = append(parts, shareOf(*p, "infested"))
	}
	if m := d.Moran; m != nil {
		parts = append(parts, fmt.Sprintf("Moran's I %s (p %s)", figures.Short(m.I), probability(m.P)))
	}
	if in := d.Strongest; in != nil {
		parts = append(parts, fmt.Sprintf("without stop %s the mean is %s", s.stopName(field, in.Stop), figures.Short(in.Without)))
	}
	return strings.Join(parts, ", ")
}

// shareOf is a share of units with its interval, where the stops tell one.
func shareOf(p fieldstats.Proportion, what string) string {
	text := fmt.Sprintf("%s of units %s", figures.Whole(p.Share), what)
	if !p.Interval.Known() {
		return text + " (how sure is not known)"
	}
	return fmt.Sprintf("%s (%.0f to %.0f %%)", text, 100*p.Interval.Low, 100*p.Interval.High)
}

func (s Screen) stopName(field string, number int) string {
	for _, f := range s.Result.Fields {
		if f.Name == field && f.Scouted() {
			return f.Stops[number].Name
		}
	}
	return fmt.Sprint(number + 1)
}

func probability(p float64) string {
	if p < 0.01 {
		return fmt.Sprintf("%.3f", p)
	}
	return fmt.Sprintf("%.2f", p)
}

// wrapped breaks a text into lines between words; a longer word stands alone.
func wrapped(text string, width int) (lines []string) {
	line := ""
	for _, word := range strings.Fields(text) {
		if line != "" && len([]rune(line))+1+len([]rune(word)) > width {
			lines = append(lines, line)
			line = ""
		}
		if line != "" {
			line += " "
		}
		line += word
	}
	return append(lines, line)
}

// acrossFields tells how the scatter grows with the mean, where the fields tell it.
func (s Screen) acrossFields(b *strings.Builder) {
	if p, err := verdict.AcrossFields(s.Verdicts); err == nil {
		fmt.Fprintf(b, "\nAcross %s: variance between stops = %s·mean^%s (Taylor's power law, r² %s)\n",
			figures.Counted(p.N, "field"), figures.Short(p.A), figures.Short(p.B), figures.Short(p.RSquared))
	}
}
