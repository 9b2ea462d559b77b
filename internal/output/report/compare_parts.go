package report

import (
	"fmt"
	"strings"

	"github.com/geocoris/geocoris/internal/followup/compare"
	"github.com/geocoris/geocoris/internal/language/figures"
)

// partGround names a lot with its days.
func partGround(p compare.Part) string {
	switch p.Lot {
	case compare.TreatedBetween:
		return "in ground treated on " + joined(p.Dates)
	case compare.TreatedBefore:
		return "in ground treated on " + joined(p.Dates) + ", before both visits"
	}
	return "in ground not treated"
}

func joined(texts []string) string { return joinedIn(figures.Both, texts) }

func joinedIn(u figures.Units, texts []string) string {
	if n := len(texts); n > 1 {
		return u.Say("%s and %s", strings.Join(texts[:n-1], ", "), texts[n-1])
	}
	return strings.Join(texts, "")
}

// PartText tells what the stops of a lot say in one line.
func PartText(r *compare.Result, p compare.Part) string {
	if p.NA == 0 || p.NB == 0 {
		return fmt.Sprintf("%s: stops %d before, %d after; nothing to compare", partGround(p), p.NA, p.NB)
	}
	text := fmt.Sprintf("%s: %s %s before, %s after (%s)", partGround(p), r.Statistic, figures.Short(p.MeanA), figures.Short(p.MeanB), stopsText(p.Matched, p.NA, p.NB))
	if p.Lot == compare.TreatedBetween {
		text += ", with what the treatment did in it"
	}
	return text
}

// PartTexts are the lines of the parts that the verdict leaves out.
func PartTexts(r *compare.Result, s *compare.Step) (lines []string) {
	for _, p := range s.Besides() {
		lines = append(lines, PartText(r, p))
	}
	return lines
}

func stopsText(matched bool, na, nb int) string {
	if matched {
		return fmt.Sprintf("%d matched stops", na)
	}
	return fmt.Sprintf("%d against %d stops, not matched", na, nb)
}
