package assess

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/geocoris/geocoris/internal/mapping/rules"
	"github.com/geocoris/geocoris/internal/scouting/survey"
)

// watchShare is the part of a share's treat level from which ground is watched
// where nothing else is given. Shares do not double as numbers do, so growth gives
// no level; our choice, no source.
const watchShare = 0.5

// ByRule is the statistic a rule is about and the levels it sets. What set gives
// goes before the rule: its watch level, next visit and doubling.
func ByRule(l rules.Level, set LevelSettings) (LevelSettings, Statistic) {
	stat := Statistic{Unit: l.Rule.Unit, Tally: l.Band.Tally, Part: l.Rule.Part, Sign: l.Band.Sign}
	set.TreatAt, set.TreatSource = l.Treat, l.Source()
	if set.NextVisit == 0 {
		set.NextVisit = l.Rule.RevisitDays
	}
	switch {
	case set.WatchAt != 0 || set.Doubling != 0:
	case l.Rule.Statistic == rules.Share:
		set.WatchAt, set.WatchSource = l.Treat*watchShare, "half the treat level: our choice, no source; shares do not double as numbers do"
	case l.Rule.DoublingDays > 0:
		set.Doubling, set.DoublingSource = l.Rule.DoublingDays, l.Rule.DoublingSource
	default:
		set.WatchAt, set.WatchSource = l.Treat*watchShare, "half the treat level: our choice, no source; the rule gives no growth"
	}
	return set, stat
}

// CanFeed reports why samples cannot feed a rule, with the columns they lack. Samples of
// which no row could be used lack none that is known: why their rows were refused is said
// elsewhere.
func CanFeed(l rules.Level, s *survey.Survey) error {
	if len(s.Stops) == 0 {
		return nil
	}
	stated := l.Rule.StatedAs(l.Band)
	if l.Rule.Statistic == rules.Share && seen(s) {
		return nil // stop by stop, as they are valued
	}
	if l.Band.Sign != "" {
		return fmt.Errorf("rule %s goes by %s: the samples lack a column for %s on each %s, and counts cannot show it; write plants and plants_over, or honeydew and colonies", l.Rule.Name, stated, l.Band.Sign, l.Rule.Unit)
	}
	var plants, leaves, together bool
	for _, stop := range s.Stops {
		for _, r := range stop.Records {
			plants, leaves = plants || r.Plant != "", leaves || r.Leaf != ""
			together = together || r.Units > 1
		}
	}
	if l.Rule.Part == "" {
		if err := OfAnother(l.Rule.Unit, s.Stops); err != nil {
			return fmt.Errorf("rule %s: %w", l.Rule.Name, err)
		}
		if leaves && l.Rule.Unit != "leaf" {
			return fmt.Errorf("rule %s goes by %s: the samples name leaves; put the rows of a %s together and leave out the column leaf", l.Rule.Name, stated, l.Rule.Unit)
		}
		return nil
	}
	var lack []string
	if !plants {
		lack = append(lack, l.Rule.Unit)
	}
	if together && !leaves && l.Band.Tally > 1 {
		lack = append(lack, l.Rule.Part)
	}
	if len(lack) > 0 {
		return fmt.Errorf("rule %s goes by %s: the samples lack %s: want a row for each %s, or columns plants and plants_over", l.Rule.Name, stated, columns(lack), l.Rule.Part)
	}
	return nil
}

// OfAnother reports a row that was read as of something else than counts of a unit are asked
// for, as where fields go by rules of different units; nil for none.
func OfAnother(unit string, stops []survey.Stop) error {
	for _, stop := range stops {
		for _, r := range stop.Records {
			of := r.Looked.Of
			if r.Looked.HasPlants && (unit == "plant" || !r.Looked.Leaves) {
				of = "plant, or a row"
			}
			if of != "" && of != unit {
				return fmt.Errorf("fields go by different units: here counts are asked for per %s, and %s:%d was read per %s; map the fields of one unit alone, with --only and their --rule", unit, r.File, r.Line, of)
			}
		}
	}
	return nil
}

// seen reports whether any row tells plants over a tally, or a sign.
func seen(s *survey.Survey) bool {
	return slices.ContainsFunc(s.Stops, func(stop survey.Stop) bool {
		return tellsOver(stop) || slices.ContainsFunc(stop.Records, func(r survey.Record) bool {
			return r.Seen != nil && (r.Seen.Honeydew.Entered() || r.Seen.Colonies.Entered() || !math.IsNaN(r.Infested) && r.Infested <= r.Seen.Plants)
		})
	})
}

func columns(names []string) string {
	if len(names) == 1 {
		return "the column " + names[0]
	}
	return "the columns " + strings.Join(names, " and ")
}
