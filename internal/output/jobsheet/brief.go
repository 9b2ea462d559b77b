package jobsheet

import (
	"fmt"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/internal/language/figures"
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
	p := report.NewPaper(b.Width, b.Units)
	p.Put(0, report.Quiet, b.briefTitle())
	for _, note := range b.Result.KeepOffNotes { // to be read before all else
		p.Put(2, report.Ask, "Keep-offs: "+note+".")
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
	p.Footer(b.Folder, b.Files)
	return p.Lines()
}

// briefTitle names the pest and the days of the count, where all jobs have the same.
func (b Brief) briefTitle() string {
	first := b.subtitle(b.Result.Jobs[0])
	for _, j := range b.Result.Jobs[1:] {
		if b.subtitle(j) != first {
			return "Spray jobs: " + figures.Counted(len(b.Result.Jobs), "field") + "."
		}
	}
	return strings.ReplaceAll(first, " · ", ", ") + "."
}

// brief is a job in three to five lines.
func (b Brief) brief(p report.Paper, j *handoff.Job) {
	p.Put(0, report.Quiet, fmt.Sprintf("%s, %s", j.Field, b.Units.Area(j.Area)))
	p.Put(2, report.Ask, b.warningOnScreen(j))
	p.Put(2, report.Spray, b.task(j, ""))
	p.Put(2, report.Ask, strings.TrimSpace(lookFirst(j)+" "+goodUntil(j)))
	why := ""
	if b.warning(j) == "" {
		why = verdict(j)
	}
	p.Said("Why", why, b.grown(j))
	if off := b.keptOff(j); off != nil {
		p.Said("Keep off", strings.Join(off, "; ")+".")
	}
	p.Said("Tank", b.tank(j.Figures().Sprayed)...)
	p.Said("Look out", b.lookOut(j)...)
}

// grown is why more is sprayed than the red ground; nothing of a whole field.
func (b Brief) grown(j *handoff.Job) string {
	if j.Covers() || j.Ground.Grown-j.Ground.Treat <= leastTold {
		return ""
	}
	return fmt.Sprintf("The red ground is %s. %s", b.Units.Area(j.Ground.Treat), b.grownBy(j.Margin))
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
		text += ": " + strings.Replace(loads(each, b.Mix.Tank.Unit), " of ", map[bool]string{true: " load of ", false: " loads of "}[len(each) == 1], 1)
	}
	return append([]string{text + "."}, all...)
}

// lookOut is what may go wrong.
func (b Brief) lookOut(j *handoff.Job) (all []string) {
	if n := j.Advice.NotRead; n != "" {
		all = append(all, report.Sentence(n)+" could not be read.")
		if !j.Covers() {
			all = append(all, "That may make the red ground larger.")
		}
	}
	if n := j.Points; n.After < n.Before {
		all = append(all, "Points of outlines: "+pointsSay(n)+".")
	}
	f := j.Figures()
	if f.Left > leastTold {
		all = append(all, b.left(j))
	}
	if f.OutOfField > leastTold {
		all = append(all, b.Units.Area(f.OutOfField)+" is sprayed past the field's edge.")
	}
	if f.Overlap > leastTold {
		all = append(all, b.Units.Area(f.Overlap)+" is sprayed twice.")
	}
	if f.Missed > leastTold {
		all = append(all, b.Units.Area(f.Missed)+" is missed.")
	}
	if says := rowsSay(j.Plan); says != "" {
		all = append(all, says)
	}
	if strings.HasPrefix(j.Trust, "no better") {
		all = append(all, "The map is no better than the average.")
	}
	return all
}

// together sums all jobs up.
func (b Brief) together(p report.Paper) {
	t := b.Result.Totals()
	p.Put(0, report.Quiet, fmt.Sprintf("All %s: spray %s, in %s.", figures.Counted(len(b.Result.Jobs), "field"), b.Units.Area(t.Sprayed), passes(t.Passes)))
	p.Said("Tank", b.tank(t.Sprayed)...)
}

// handOver says which of the files goes where.
func (b Brief) handOver() string {
	var parts []string
	for _, of := range [...]struct{ use, name string }{
		{"print %s", "jobsheet.pdf"}, {"put %s on the console", "TASKDATA.zip"}, {"%s on a phone", "handoff.kmz"},
	} {
		if slices.Contains(b.Files, of.name) {
			parts = append(parts, fmt.Sprintf(of.use, of.name))
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return "To hand over: " + strings.Join(parts, ", ") + "."
}
