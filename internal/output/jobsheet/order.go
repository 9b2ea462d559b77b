package jobsheet

import (
	"strings"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/output/report"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

// task is what to spray, in how many passes, and by when.
func (s Sheet) task(j *handoff.Job) string {
	return s.when(j, s.Units.Say("Spray %s, in %s of %s", s.taskFigures(j)...))
}

// taskToCover is [Sheet.task] with what that covers.
func (s Sheet) taskToCover(j *handoff.Job) string {
	return s.when(j, s.Units.Say("Spray %s to cover the hatched ground, in %s of %s", s.taskFigures(j)...))
}

func (s Sheet) taskFigures(j *handoff.Job) []any {
	u := s.Units
	return []any{u.Area(j.Figures().Sprayed), u.Counted(len(j.Plan.Passes), "pass"), u.Length(j.Plan.Settings.Swath)}
}

// when adds to a task the day, or by when.
func (s Sheet) when(j *handoff.Job, task string) string {
	u, d := s.Units, j.Days
	switch {
	case d.Late:
		return u.Say("%s. Too late: the map was good until %s, so scout again.", task, u.Day(d.GoodUntil))
	case d.SprayOn != "":
		return u.Say("%s, on %s.", task, u.Day(d.SprayOn))
	case j.SprayBy() != "":
		return u.Say("%s, by %s.", task, u.Day(j.SprayBy()))
	}
	return task + "."
}

// lookFirst says what holds after the day of the next look; "" where the map is good no
// longer than that.
func (s Sheet) lookFirst(j *handoff.Job) string {
	u, by, until := s.Units, j.SprayBy(), j.Days.GoodUntil
	switch {
	case j.LookFirst():
		return u.Say("Look again first: that is after %s, the day of the next look.", u.Day(by))
	case j.Days.Late || j.Days.SprayOn != "" || by == until:
		return ""
	}
	if until == "" {
		return u.Text("Later only after a new look.")
	}
	return u.Say("Later only after a new look, and after %s not by this map.", u.Day(until))
}

// lookAfter is when to look again after the spray; "" where the map is too old for one.
func (s Sheet) lookAfter(j *handoff.Job) string {
	if j.Days.Late {
		return ""
	}
	return s.Units.Text(report.AfterSpray)
}

// goodUntil is the end of the map where a day is planned before it but after the next look.
func (s Sheet) goodUntil(j *handoff.Job) string {
	if !j.LookFirst() || j.Days.GoodUntil == "" {
		return ""
	}
	return s.Units.Say("The map is good until %s.", s.Units.Day(j.Days.GoodUntil))
}

// order is what the driver does, before anything else is said.
func (s Sheet) order(j *handoff.Job) (lines []string) {
	first := s.taskToCover(j)
	lines = append(lines, sentences(first, s.lookFirst(j)))
	off := s.keptOff(j)
	for _, b := range j.Ground.Bars {
		if b.Nearest <= nearBar && !b.Named {
			off = append(off, barName(b, s.Units))
		}
	}
	if off != nil {
		lines = append(lines, s.Units.Say("Keep off: %s.", strings.Join(off, "; ")))
	}
	return lines
}

// keptOff names the keep-offs that take ground or lie near.
func (s Sheet) keptOff(j *handoff.Job) (parts []string) {
	for _, k := range j.Ground.KeptOff {
		name := keepOffName(k.Name, s.Units)
		if k.SetBack > 0 {
			name = s.Units.Say("%s by %s", name, s.Units.Length(k.SetBack))
		}
		parts = append(parts, name)
	}
	return parts
}

// keepOffName is a name, of ground that was sprayed before in plain words.
func keepOffName(name string, u figures.Units) string {
	if day, sprayed := strings.CutPrefix(name, handoff.GroundSprayedOn); sprayed {
		return u.Say("ground sprayed on %s", u.Day(day))
	}
	return name
}
