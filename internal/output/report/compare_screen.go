package report

import (
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"

	"github.com/geocoris/geocoris/internal/followup/change"
	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/followup/paired"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// A CompareScreen is what the person reads after the second visit.
type CompareScreen struct {
	Result *compare.Result
	Now    []verdict.Verdict // of the last visit to each field
	Units  figures.Units
	Notes  []string // of readers
	Out    string   // the folder of the files
	Files  []string // their names
}

// Write writes the screen as plain text.
func (s CompareScreen) Write(w io.Writer) error {
	var b strings.Builder
	r := s.Result
	fmt.Fprintf(&b, "%s, %s\n", compareTitle(r), r.Statistic)
	for _, line := range append(CompareLevelLines(r), levelsCaution) {
		fmt.Fprintf(&b, "  %s\n", line)
	}
	for _, f := range r.Fields {
		fmt.Fprintf(&b, "\n%s, %s\n", f.Name, s.Units.Area(f.Area))
		if f.Behind != "" {
			fmt.Fprintf(&b, "  last counted on %s, before the newest visit of %s; its map is good until %s\n", lastOf(f).Last, f.Behind, f.Next.GoodUntil)
		}
		s.visits(&b, f)
		for _, step := range allSteps(f) {
			s.step(&b, f, step)
		}
		s.hotspots(&b, f)
		s.patterns(&b, f)
		s.treatments(&b, f)
		s.next(&b, f)
		for _, n := range NoteTexts(f) {
			fmt.Fprintf(&b, "  note: %s\n", n)
		}
	}
	if notes := append(append([]string(nil), s.Notes...), CompareNotes(r)...); len(notes) > 0 {
		b.WriteString("\nNotes\n")
		for _, n := range notes {
			fmt.Fprintf(&b, "  %s\n", n)
		}
	}
	fmt.Fprintf(&b, "\nFiles in %s: %s\n\nCautions\n", s.Out, strings.Join(s.Files, ", "))
	for _, c := range Cautions() {
		fmt.Fprintf(&b, "  %s\n", c)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

func (s CompareScreen) visits(b *strings.Builder, f *compare.Field) {
	t := tabwriter.NewWriter(b, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintf(t, "visit\tstops\tmean\thighest\ttreat %s\twatch %s\tclear %s\t\n", s.Units.AreaUnit(), s.Units.AreaUnit(), s.Units.AreaUnit())
	for _, v := range f.Visits {
		fmt.Fprintf(t, "%s\t%d\t%s\t%s\t", v.Date, len(v.Assess.Planned()), Levelled(v.Assess.Mean, v.Levels.Levels), Levelled(v.Assess.Max, v.Levels.Levels))
		for _, c := range zones.Classes() {
			fmt.Fprintf(t, "%s\t", s.Units.Bare(v.Assess.Map.Zone(c).Area))
		}
		fmt.Fprintln(t)
	}
	t.Flush() // a strings.Builder takes everything
	for _, v := range f.Visits {
		if used := StopsUsed(v.Assess, figures.Both); used != "" {
			fmt.Fprintf(b, "  %s: %s\n", v.Date, used)
		}
		if !v.Assess.Trust.Believed() {
			fmt.Fprintf(b, "  %s: %s\n", v.Date, TrustText(v.Assess.Trust))
		}
	}
}

func (s CompareScreen) step(b *strings.Builder, f *compare.Field, step *compare.Step) {
	fmt.Fprintf(b, "\n  %s to %s: %s\n", f.Visits[step.From].Date, f.Visits[step.To].Date, StepVerdict(s.Result, f, step))
	for _, text := range PartTexts(s.Result, step) {
		fmt.Fprintf(b, "    %s\n", text)
	}
	for _, w := range UnlikeTexts(f, step) {
		fmt.Fprintf(b, "    not alike: %s\n", w)
	}
	if step.Unseen > 0 {
		fmt.Fprintf(b, "    %s of the field has no figure of change: one of the visits had no stop near it\n", figures.Whole(step.Unseen))
	}
	t := tabwriter.NewWriter(b, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintf(t, "    before, after (%s)\ttreat\twatch\tclear\tall\t\n", s.Units.AreaUnit())
	for _, from := range zones.Classes() {
		fmt.Fprintf(t, "%s\t", ZoneWord(from))
		for _, to := range zones.Classes() {
			fmt.Fprintf(t, "%s\t", s.Units.Bare(step.Table[from][to]))
		}
		fmt.Fprintf(t, "%s\t\n", s.Units.Bare(step.Table.From(from)))
	}
	fmt.Fprint(t, "all\t")
	for _, to := range zones.Classes() {
		fmt.Fprintf(t, "%s\t", s.Units.Bare(step.Table.To(to)))
	}
	fmt.Fprintf(t, "%s\t\n", s.Units.Bare(step.Table.Total()))
	t.Flush()
	parts := s.treatGround(step)
	if parts == nil {
		parts = []string{"none at either visit"}
	}
	fmt.Fprintf(b, "    treat ground: %s\n", strings.Join(parts, ", "))
}

// treatedOf is how much of a kind of treat ground was treated between the visits; ""
// where nothing was.
func (s CompareScreen) treatedOf(step *compare.Step, k change.Kind) string {
	if len(step.TreatedOn) == 0 {
		return ""
	}
	return fmt.Sprintf(" (%s treated)", s.Units.Bare(step.Treated[k]))
}

// treatGround is what became of the treat ground of a step, one text for each kind
// that occurs.
func (s CompareScreen) treatGround(step *compare.Step) (parts []string) {
	for _, k := range change.Kinds() {
		if step.Areas[k] > 0 {
			parts = append(parts, fmt.Sprintf("%s %s %s%s", GroundWord(k), s.Units.Bare(step.Areas[k]), s.Units.AreaUnit(), s.treatedOf(step, k)))
		}
	}
	return parts
}

// mostHotspots are told on the screen; compare.json has them all.
const mostHotspots = 12

func (s CompareScreen) hotspots(b *strings.Builder, f *compare.Field) {
	if len(f.Tracks.Steps) == 0 {
		return
	}
	fmt.Fprintf(b, "\n  hotspots, numbered through all visits\n")
	for i, step := range f.Tracks.Steps {
		if i == mostHotspots {
			fmt.Fprintf(b, "    and %d more, in compare.json\n", len(f.Tracks.Steps)-i)
			return
		}
		fmt.Fprintf(b, "    %s to %s: %s\n", f.Visits[step.From].Date, f.Visits[step.To].Date, s.hotspot(step))
	}
}

func (s CompareScreen) hotspot(step change.Step) string {
	text := fmt.Sprintf("%d %s", step.ID, HotspotWord(step.Event))
	if step.Event == change.Lost && someGround(step.Before-step.Unseen) {
		text = fmt.Sprintf("%d %s in part", step.ID, HotspotWord(change.Ended))
	}
	if len(step.With) > 0 {
		with := make([]string, len(step.With))
		for i, id := range step.With {
			with[i] = fmt.Sprint(id)
		}
		preposition := map[change.Event]string{change.Merged: "with", change.Joined: "into", change.Split: "leaving", change.Broke: "of"}[step.Event]
		text += fmt.Sprintf(" %s %s", preposition, strings.Join(with, ", "))
	}
	switch {
	case step.Before > 0 && step.After > 0:
		text += fmt.Sprintf(", %s to %s %s", s.Units.Bare(step.Before), s.Units.Bare(step.After), s.Units.AreaUnit())
	case step.After > 0:
		text += fmt.Sprintf(", %s %s", s.Units.Bare(step.After), s.Units.AreaUnit())
	default:
		text += fmt.Sprintf(", was %s %s", s.Units.Bare(step.Before), s.Units.AreaUnit())
	}
	if someGround(step.Unseen) && (step.Event != change.Lost || someGround(step.Before-step.Unseen)) {
		text += fmt.Sprintf(", %s %s of it not looked at again", s.Units.Bare(step.Unseen), s.Units.AreaUnit())
	}
	if !math.IsNaN(step.Bearing) {
		text += fmt.Sprintf(", moved %s towards %s (%.0f°)", s.Units.Distance(step.Metres), compass(step.Bearing), step.Bearing)
	}
	if !math.IsNaN(step.DensityRate) {
		text += fmt.Sprintf(", density %+.0f %% a day", 100*math.Expm1(step.DensityRate))
	}
	return text
}

// compass is the nearest of eight directions.
func compass(bearing float64) string {
	names := [...]string{"N", "NE", "E", "SE", "S", "SW", "W", "NW"}
	return names[int(math.Round(bearing/45))%len(names)]
}

// fewestRanked is how many matched stops the screen shows a correlation of: with
// fewer, chance makes perfect ones. Judgement, no source.
const fewestRanked = 6

func (s CompareScreen) patterns(b *strings.Builder, f *compare.Field) {
	fmt.Fprintf(b, "\n  same places? (1 the same pattern, 0 none)\n")
	for _, c := range f.Correlations {
		stops := "too few matched stops"
		if !math.IsNaN(c.Stops.Rho) && c.Stops.N >= fewestRanked {
			stops = fmt.Sprintf("Spearman %.2f over %s (p %.2g)", c.Stops.Rho, figures.Counted(c.Stops.N, "matched stop"), c.Stops.P)
		}
		fmt.Fprintf(b, "    %s and %s: %s; surfaces %s\n", f.Visits[c.From].Date, f.Visits[c.To].Date, stops, correlation(c.Surface.Rho))
	}
}

func correlation(rho float64) string {
	if math.IsNaN(rho) {
		return "not known"
	}
	return fmt.Sprintf("%.2f", rho)
}

func (s CompareScreen) treatments(b *strings.Builder, f *compare.Field) {
	for _, t := range f.Treatments {
		fmt.Fprintf(b, "\n  treatment of %s\n", t.Date)
		if t.Note != "" {
			fmt.Fprintf(b, "    %s\n", t.Note)
		}
		if c := t.Coverage; c != nil {
			fmt.Fprintf(b, "    treated %s %s: %s of the treat zone, %s outside it; missed %s of the treat zone\n",
				s.Units.Bare(c.Treated), s.Units.AreaUnit(), s.Units.Bare(c.Hit), s.Units.Bare(c.Needless), s.Units.Bare(c.Missed))
		}
		if e := t.Efficacy; e != nil {
			fmt.Fprintf(b, "    %s: %s, %d stops inside, %d outside\n", effect(*e), e.Formula, t.Inside, t.Outside)
			if e.Formula == paired.Abbott {
				b.WriteString("    without a count before it, inside and outside are taken as equal then\n")
			}
		} else {
			fmt.Fprintf(b, "    whether it worked is not known: %s\n", EfficacyUnknown(t))
		}
		fmt.Fprintf(b, "    %s\n", Reentry(t.Treatment))
	}
}

// effect says what a treatment did, and whether it stands apart from nothing.
func effect(e paired.Efficacy) string {
	text := fmt.Sprintf("took %.0f %% of what would be there without it", e.Percent)
	if e.Percent < 0 {
		text = fmt.Sprintf("there is %.0f %% more than would be there without it", -e.Percent)
	}
	switch {
	case !e.Interval.Known():
		return text + " (how sure is not known)"
	case e.Interval.Low <= 0 && e.Interval.High >= 0:
		return fmt.Sprintf("%s (took %.0f to %.0f %%): no effect stands out from the noise", text, e.Interval.Low, e.Interval.High)
	}
	return fmt.Sprintf("%s (%.0f to %.0f %%)", text, e.Interval.Low, e.Interval.High)
}

func (s CompareScreen) next(b *strings.Builder, f *compare.Field) {
	n := f.Next
	fmt.Fprintf(b, "\n  pest-days so far: %s by the stops, %s by the surface\n", figures.Short(f.PestDays.Stops), figures.Short(f.PestDays.Surface))
	fmt.Fprintf(b, "  go back by %s: %s\n", n.GoBackBy, GoBackWhy(n))
	if f.CountAgain() {
		fmt.Fprintf(b, "  count again before anything is sprayed: the map was good until %s\n", n.GoodUntil)
	}
	if unknown := noGrowthKnown(f); unknown != "" {
		fmt.Fprintf(b, "  days to the treat level are not known, as no growth is: %s\n  ground at or above it now: %s\n", unknown, figures.Whole(n.Within[0].Share))
	}
	if math.IsNaN(n.Rate) {
		return
	}
	if !n.Trusted {
		b.WriteString("  the days below rest on a growth that does not stand out from the noise\n")
	}
	mean := "mean"
	if says := growthGround(n); says != "" {
		fmt.Fprintf(b, "  the days below go by %s\n", says)
		mean = "mean of " + n.Basis.String()
	}
	fmt.Fprintf(b, "  %s at the treat level: %s (%s at the quick end, %s at the slow end)\n", mean, daysText(n.FieldDays), daysText(n.FieldSoonest), daysText(n.FieldLatest))
	if !math.IsNaN(n.TreatedDays) {
		fmt.Fprintf(b, "  mean of treated ground at it: %s (%s at the quick end)\n", daysText(n.TreatedDays), daysText(n.TreatedSoonest))
	}
	var parts []string
	for _, a := range n.Within {
		if a.Days == 0 {
			parts = append(parts, "now "+figures.Whole(a.Share))
			continue
		}
		parts = append(parts, fmt.Sprintf("in %d days %s (quick end %s)", a.Days, figures.Whole(a.Share), figures.Whole(a.ShareSoonest)))
	}
	fmt.Fprintf(b, "  ground at or above it: %s\n", strings.Join(parts, ", "))
	if p := f.Forecast; p != nil {
		treated := ""
		if p.Basis != compare.AllGround {
			treated = fmt.Sprintf(", %s of it in treated ground", s.Units.Bare(p.TreatTreated))
		}
		fmt.Fprintf(b, "  %s\n    treat %s %s (%s to %s)%s\n", ForecastText(*p), s.Units.Bare(p.Treat), s.Units.AreaUnit(), s.Units.Bare(p.TreatSlowest), s.Units.Bare(p.TreatQuick), treated)
	}
}

func daysText(d float64) string {
	switch {
	case math.IsNaN(d):
		return "not known"
	case math.IsInf(d, 1):
		return "never"
	case d == 0:
		return "now"
	}
	return "in " + figures.Short(d) + " days"
}
