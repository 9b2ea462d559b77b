package report

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/mapping/assess"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

const (
	mostNamed = 12 // rows and stops named on the screen; summary.json has them all
	whyAway   = "in no field, nor within 15 m of one"
)

// A Screen is what the person who walked the field reads at noon.
type Screen struct {
	Result   *assess.Result
	Units    figures.Units
	Verdicts []verdict.Verdict // of its scouted fields; none are shown where there are none
	Notes    []string          // of readers before the survey's own
	Out      string            // the folder of the files
	Files    []string          // their names
}

// Write writes the screen as plain text.
func (s Screen) Write(w io.Writer) error {
	var b strings.Builder
	s.head(&b)
	for _, f := range s.Result.Fields {
		b.WriteByte('\n')
		s.field(&b, f)
	}
	s.acrossFields(&b)
	s.setAside(&b)
	s.notes(&b)
	fmt.Fprintf(&b, "\nFiles in %s: %s\n", s.Out, strings.Join(s.Files, ", "))
	b.WriteString("\nCautions\n")
	for _, c := range Cautions() {
		fmt.Fprintf(&b, "  %s\n", c)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// head says the levels first: everything below hangs on them.
func (s Screen) head(b *strings.Builder) {
	r := s.Result
	fmt.Fprintf(b, "%s, %s\n", title(r), StatisticOf(r))
	for _, f := range r.Fields {
		if days := f.Days(); len(days) > 1 {
			fmt.Fprintf(b, "  %s: SAMPLES OF %d DAYS ON ONE MAP, %s to %s: visits of different weeks want a map each; what was counted first has grown since\n",
				f.Name, len(days), days[0], days[len(days)-1])
		}
	}
	for _, line := range LevelLines(r) {
		fmt.Fprintf(b, "  %s\n", line)
	}
	if r.Levels.Preset {
		if r.Survey.Pest == "" {
			b.WriteString("  the samples name no pest: sorghum aphids are assumed\n")
		}
		b.WriteString("  choose your own with --treat-at and --watch-at\n")
	}
	fmt.Fprintf(b, "  %s\n", levelsCaution)
}

func (s Screen) field(b *strings.Builder, f *assess.Field) {
	s.Result = s.Result.Of(f)
	if f.NoneRead() {
		fmt.Fprintf(b, "%s, %s: %s, so no zones; nothing here says it is clear\n", f.Name, s.Units.Area(f.Area), NoneRead)
		s.verdict(b, f.Name)
		return
	}
	if !f.Scouted() {
		fmt.Fprintf(b, "%s, %s: not scouted, so no zones; nothing here says it is clear\n", f.Name, s.Units.Area(f.Area))
		for _, row := range inDoubt(f.Unread) {
			if row.Placed {
				fmt.Fprintf(b, "  a stop in it was not read: %s\n", row)
			}
		}
		return
	}
	fmt.Fprintf(b, "%s, %s: %s, %smean %s, highest %s\n", f.Name, s.Units.Area(f.Area), Stops(f, figures.Both), OwnDays(s.Result, f, "counted %s, ", figures.Both), Levelled(f.Mean, s.Result.Levels.Levels), Levelled(f.Max, s.Result.Levels.Levels))
	s.table(b, f)
	if text := Unscouted(f, s.Units); text != "" {
		fmt.Fprintf(b, "  %s\n", text)
	}
	s.verdict(b, f.Name) // spray or not is what was asked; how sure comes after
	s.trust(b, f)
	s.chance(b, f)
	for _, stop := range f.Stops {
		if stop.Outside > 0 {
			fmt.Fprintf(b, "  stop %s\n", Outside(stop, s.Units))
		}
	}
}

// Outside says of a stop outside its field where it lies, by its name first.
func Outside(s assess.Stop, u figures.Units) string {
	if s.In != "" {
		return fmt.Sprintf("%s lies in %s, %s from the field, and was counted in", s.Name, s.In, u.Distance(s.Outside))
	}
	return fmt.Sprintf("%s lies %s outside the boundary and was counted in", s.Name, u.Distance(s.Outside))
}

func (s Screen) table(b *strings.Builder, f *assess.Field) {
	t := tabwriter.NewWriter(b, 0, 0, 2, ' ', tabwriter.AlignRight)
	units := []figures.Units{figures.Metric, figures.US}
	if !s.Units.InBoth() {
		units = []figures.Units{s.Units}
	}
	var names []string
	for _, u := range units {
		names = append(names, u.AreaUnit())
	}
	fmt.Fprintf(t, "zone\t%s\tshare\tmean\thighest stop\tstops\t\n", strings.Join(names, "\t"))
	for _, z := range f.Map.Zones {
		var areas []string
		for _, u := range units {
			areas = append(areas, u.Bare(z.Area))
		}
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\t%d\t\n", ZoneWord(z.Class), strings.Join(areas, "\t"), figures.Share(f.Map.Share(z.Class)), Levelled(z.Mean, s.Result.Levels.Levels), Highest(f, z.Class, s.Result.Levels.Levels), f.StopsIn(z.Class))
	}
	t.Flush() // a strings.Builder takes everything
}

// trust says whether to believe the map, in words before figures.
func (s Screen) trust(b *strings.Builder, f *assess.Field) {
	fmt.Fprintf(b, "  trust: %s\n", TrustText(f.Trust))
	for _, reason := range TrustReasons(f.Trust) {
		fmt.Fprintf(b, "    %s\n", reason)
	}
	if lacking := assess.Lacking(f.Layout); lacking != "" && !f.Layout.Partial() { // which is a reason above
		fmt.Fprintf(b, "    %s; plan spreads stops over a field\n", lacking)
	}
	idw := f.Settings.IDW
	how := fmt.Sprintf("power %g, %d nearest", idw.Power, idw.Neighbors)
	if idw.Neighbors < 0 {
		how = fmt.Sprintf("power %g, all stops", idw.Power)
	}
	if f.Settings.Tuned {
		how += ", chosen by leave-one-out"
	}
	fmt.Fprintf(b, "  leave-one-out over %s (%s): off by %s on average, root mean square %s\n",
		figures.Counted(f.Trust.Score.N, "stop"), how, figures.Short(f.Trust.Score.MAE), figures.Short(f.Trust.Score.RMSE))
	if h := f.Hindsight; h.Over > 0 {
		fmt.Fprintf(b, "  of the %s at or above %s, the map would have put %d in treat, %d in watch, %d in clear had they not been visited\n",
			figures.Counted(h.Over, "stop"), figures.Level(s.Result.Levels.TreatAt), h.Treat, h.Watch, h.Clear)
	}
}

func (s Screen) setAside(b *strings.Builder) {
	fmt.Fprintf(b, "\n%s\n", rowsLine(s.Result.Tally(), figures.Both))
	for _, line := range firstRows(s.Result, "in summary.json", figures.Both) {
		fmt.Fprintf(b, "  %s\n", line)
	}
}

// RowLines are how many rows were read and set aside, and each that was set aside or
// doubted, as the screen has them; none where all were used without doubt.
func RowLines(r *assess.Result, u figures.Units) []string {
	named := firstRows(r, u.Text("geocoris check names them all"), u)
	if len(named) == 0 && r.Tally().SetAside == 0 {
		return nil
	}
	return append([]string{rowsLine(r.Tally(), u)}, named...)
}

func rowsLine(t survey.Tally, u figures.Units) string {
	line := u.Say("Rows: %s read, %s used, %s set aside", u.Number(t.Read), u.Number(t.Used), u.Number(t.SetAside))
	if t.OtherPest > 0 {
		line += u.Say(", %d of another pest", t.OtherPest)
	}
	return line
}

// firstRows are the rows that were set aside or doubted; of many the first, and where the
// others are.
func firstRows(r *assess.Result, others string, u figures.Units) (lines []string) {
	for _, alike := range survey.TogetherAlike(r.Survey.Problems) {
		what := ""
		if alike[0].Severity == survey.Doubtful {
			what = u.Text(" (used)")
		}
		lines = append(lines, alike.In(u.Language().Finding)+what)
	}
	lines = append(lines, named(r.Away, u)...)
	if n := len(lines) - mostNamed; n > 0 {
		lines = append(lines[:mostNamed], u.Say("and %d more, %s", n, others))
	}
	return lines
}

func named(stops []survey.Stop, u figures.Units) (lines []string) {
	for _, s := range stops {
		rec := s.Records[0]
		lines = append(lines, u.Say("%s:%d: stop %s at %.6f, %.6f: %s", rec.File, rec.Line, s.Name, s.Longitude, s.Latitude, u.Text(whyAway)))
	}
	return lines
}

func (s Screen) notes(b *strings.Builder) {
	all := append(append(append([]string(nil), s.Notes...), s.Result.Survey.Notes...), s.Result.Notes...)
	if len(all) == 0 {
		return
	}
	b.WriteString("\nNotes\n")
	for _, n := range all {
		fmt.Fprintf(b, "  %s\n", n)
	}
}
