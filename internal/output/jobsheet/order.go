package jobsheet

import (
	"fmt"
	"strings"

	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/spraying/handoff"
)

// task is what to spray, in how many passes, and by when; to is what that covers.
func (s Sheet) task(j *handoff.Job, to string) string {
	text := fmt.Sprintf("Spray %s%s, in %s of %s", s.Units.Area(j.Figures().Sprayed), to, passes(len(j.Plan.Passes)), s.Units.Length(j.Plan.Settings.Swath))
	d := j.Days
	switch {
	case d.Late:
		return fmt.Sprintf("%s. Too late: the map was good until %s, so scout again.", text, figures.Day(d.GoodUntil))
	case d.SprayOn != "":
		return fmt.Sprintf("%s, on %s.", text, figures.Day(d.SprayOn))
	case j.SprayBy() != "":
		return fmt.Sprintf("%s, by %s.", text, figures.Day(j.SprayBy()))
	}
	return text + "."
}

func passes(n int) string {
	if n == 1 {
		return "1 pass"
	}
	return fmt.Sprintf("%d passes", n)
}

// lookFirst says what holds after the day of the next look; "" where the map is good no
// longer than that.
func lookFirst(j *handoff.Job) string {
	by, until := j.SprayBy(), j.Days.GoodUntil
	switch {
	case j.LookFirst():
		return fmt.Sprintf("Look again first: that is after %s, the day of the next look.", figures.Day(by))
	case j.Days.Late || j.Days.SprayOn != "" || by == until:
		return ""
	}
	return "Not sprayed by then? Look again first."
}

// goodUntil is the end of the map where the day to spray by is not that.
func goodUntil(j *handoff.Job) string {
	if lookFirst(j) == "" || j.Days.GoodUntil == "" {
		return ""
	}
	return fmt.Sprintf("The map is good until %s.", figures.Day(j.Days.GoodUntil))
}

// order is what the driver does, before anything else is said.
func (s Sheet) order(j *handoff.Job) (lines []string) {
	first := s.task(j, " to cover the hatched ground")
	if look := lookFirst(j); look != "" {
		first += " " + look
	}
	lines = append(lines, first)
	off := s.keptOff(j)
	for _, b := range j.Ground.Bars {
		if b.Nearest <= nearBar {
			off = append(off, barName(b))
		}
	}
	if off != nil {
		lines = append(lines, "Keep off: "+strings.Join(off, "; ")+".")
	}
	return lines
}

// keptOff names the keep-offs that take ground or lie near.
func (s Sheet) keptOff(j *handoff.Job) (parts []string) {
	for _, k := range j.Ground.KeptOff {
		parts = append(parts, fmt.Sprintf("%s by %s", k.Name, s.Units.Length(k.SetBack)))
	}
	return parts
}
