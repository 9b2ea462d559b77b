package jobsheet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// A Brief is what is read first: of each job what to do, what stays off, the tank, and
// what to look out for. [Sheet.WriteScreen] has all figures.
type Brief struct {
	Sheet
	Width  int    // columns of the screen; 0 for the usual
	Folder string // of the files
}

// Lines are those of the screen.
func (b Brief) Lines() []report.Line {
	p := b.paper()
	p.Footer(b.Folder, b.Files)
	return p.Lines()
}

// Paragraphs are those of the screen but its end, which is of files and the command line.
func (b Brief) Paragraphs() []report.Line { return b.paper().Lines() }

func (b Brief) paper() report.Paper {
	p := report.NewPaper(b.Width, b.Units)
	p.Put(0, report.Quiet, b.briefTitle())
	for _, note := range b.Result.KeepOffNotes { // to be read before all else
		p.Put(2, report.Ask, b.Units.Say("Keep-offs: %s.", b.Units.Language().Note(note)))
	}
	for _, j := range b.Result.Jobs {
		p.Blank()
		b.brief(p, j)
	}
	if len(b.Result.Jobs) > 1 {
		p.Blank()
		b.together(p)
	}
	if idle := b.idleOnScreen(); len(idle) > 0 {
		p.Blank()
		for _, line := range idle {
			p.Put(0, report.Quiet, line)
		}
	}
	p.Notes(b.Result.Notes)
	p.Blank()
	p.Put(0, report.Quiet, b.handOver())
	return p
}

// briefTitle names the pest and the days of the count, where all jobs have the same.
func (b Brief) briefTitle() string {
	first := b.subtitle(b.Result.Jobs[0])
	for _, j := range b.Result.Jobs[1:] {
		if b.subtitle(j) != first {
			return b.Units.Say("Spray jobs: %s.", b.Units.Counted(len(b.Result.Jobs), "field"))
		}
	}
	return strings.ReplaceAll(first, " · ", ", ") + "."
}

// brief is a job in three to five lines.
func (b Brief) brief(p report.Paper, j *handoff.Job) {
	p.Put(0, report.Quiet, fmt.Sprintf("%s, %s", j.Field, b.Units.Area(j.Area)))
	p.Put(2, report.Ask, b.warningOnScreen(j))
	p.Put(2, report.Spray, b.task(j))
	why := ""
	if b.warning(j) == "" {
		why = b.verdictOfTask(j)
	}
	after := b.lookAfter(j)
	if strings.Contains(b.warning(j)+why, after) {
		after = "" // it is said once
	}
	p.Put(2, report.Ask, sentences(b.lookFirst(j), b.goodUntil(j), after))
	p.Said("Why", why, b.grown(j))
	if off := b.keptOff(j); off != nil {
		p.Said("Keep off", strings.Join(off, "; ")+".")
	}
	p.Said("Tank", b.tank(j.Figures().Sprayed)...)
	p.Said("Look out", b.lookOut(j)...)
}

// verdictOfTask is what the map says, without the day of the next look where the task has it
// as the last one to spray on.
func (b Brief) verdictOfTask(j *handoff.Job) string {
	if d := j.Days; d.Late || d.SprayOn != "" || j.SprayBy() != j.Advice.LookAgain {
		return b.verdict(j)
	}
	undated := *j
	undated.Advice.LookAgain = ""
	return b.verdict(&undated)
}

// grown is why more is sprayed than the red ground; nothing of a whole field.
func (b Brief) grown(j *handoff.Job) string {
	if j.Covers() || j.Ground.Grown-j.Ground.Treat <= leastTold {
		return ""
	}
	return b.Units.Say("The red ground is %s. %s", b.Units.Area(j.Ground.Treat), b.grownBy(j.Margin))
}

// tank is what goes into it; nothing where nothing was typed in.
func (b Brief) tank(area float64) (all []string) {
	for _, p := range b.Mix.Products {
		all = append(all, fmt.Sprintf("%s: %s.", p.Name, b.product(p, area)))
	}
	if b.Mix.Rate == nil {
		return all
	}
	litres := spray.Carrier(area, b.Mix.Rate.Base)
	text := b.Units.Volume(litres)
	if b.Mix.Tank != nil {
		each := spray.Loads(litres, b.Mix.Tank.Base)
		text += ": " + b.loadsOf(each, b.Units.Counted(len(each), "load"))
	}
	return append([]string{text + "."}, all...)
}

// lookOut is what may go wrong.
func (b Brief) lookOut(j *handoff.Job) (all []string) {
	u := b.Units
	if before := b.sprayedBefore(j); before != "" {
		all = append(all, before)
	}
	all = append(all, b.doubts(j)...)
	if n := j.Advice.NotRead; n != "" {
		all = append(all, u.Say("%s could not be read.", report.Sentence(notReadIn(n, u))))
		if !j.Covers() {
			all = append(all, u.Text("That may make the red ground larger."))
		}
	}
	if n := j.Points; n.After < n.Before {
		all = append(all, u.Say("Points of outlines: %s.", pointsSay(n, u)))
		if drawn := geo.Area(j.Ground.Field); math.Abs(drawn-j.Area) > leastTold {
			all = append(all, u.Say("The field is drawn with %s.", u.Area(drawn)))
		}
	}
	if text := ratePointsSay(j, u); text != "" {
		all = append(all, u.Say("Points of rates: %s.", text))
	}
	if bar, ok := nearestBar(j, mayBeWater); ok && bar.Kind != spray.Gap && bar.Nearest < 1 {
		all = append(all, u.Say("The spray runs up to %s. Where that is water, keep off as far as the label says.", barName(bar, u)))
	}
	if by := byHandSays(j, u); by != "" {
		all = append(all, by)
	}
	f := j.Figures()
	if f.Left > leastTold {
		all = append(all, b.left(j))
	}
	if f.OutOfField >= leastSpilled {
		all = append(all, u.Say("%s is sprayed past the field's edge.", u.Area(f.OutOfField)))
	}
	if f.Overlap >= leastSpilled {
		all = append(all, u.Say("%s is sprayed twice.", u.Area(f.Overlap)))
	}
	if f.Missed > leastTold {
		all = append(all, u.Say("%s is missed.", u.Area(f.Missed)))
	}
	if says := rowsSay(j.Plan, u); says != "" {
		all = append(all, says)
	}
	if strings.HasPrefix(j.Trust, vocabulary.English.Word(vocabulary.TrustNoBetter)) {
		all = append(all, u.Text("The map is no better than the average."))
	}
	return all
}

// together sums all jobs up.
func (b Brief) together(p report.Paper) {
	u, t := b.Units, b.Result.Totals()
	p.Put(0, report.Quiet, u.Say("All %s: spray %s, in %s.", u.Counted(len(b.Result.Jobs), "field"), u.Area(t.Sprayed), u.Counted(t.Passes, "pass")))
	p.Said("Tank", b.tank(t.Sprayed)...)
}

// handOver says which of the files goes where.
func (b Brief) handOver() string {
	u := b.Units
	var parts []string
	add := func(file, use string) {
		if slices.Contains(b.Files, file) {
			parts = append(parts, use)
		}
	}
	add("jobsheet.pdf", u.Say("print %s", "jobsheet.pdf"))
	add("TASKDATA.zip", u.Say("put %s on the console", "TASKDATA.zip"))
	add("handoff.kmz", u.Say("open %s on a phone", "handoff.kmz"))
	if len(parts) == 0 {
		return ""
	}
	return u.Say("To hand over: %s.", strings.Join(parts, ", "))
}
