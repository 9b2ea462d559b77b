package assess

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/mapping/rules"
	"github.com/geocoris/geocoris/internal/mapping/visit"
)

// The level used for sorghum aphids when none is given: the field mean per leaf
// for susceptible hybrids where the growth rate is unknown, Gordy et al. 2019,
// J. Econ. Entomol. 112:1251–1259.
const (
	sorghumAphidTreatAt = 40
	sorghumAphidSource  = "Gordy et al. 2019, J. Econ. Entomol. 112:1251–1259: field mean per leaf, susceptible hybrids, growth rate unknown"
)

// Growth assumed for sorghum aphids when none is given: 50 to 500 per leaf in 14
// days (Texas extension) is a doubling in 4.2 days.
const sorghumAphidDoubling = 4.2 // days

// LevelSettings say at which values ground is to be treated and watched, in the
// unit of the statistic. Zero fields are unset.
type LevelSettings struct {
	TreatAt float64
	WatchAt float64
	// NextVisit and Doubling, in days, give the watch level where WatchAt is
	// unset: the density that will reach the treat level before the next visit.
	NextVisit float64 // 0 is the usual 7
	Doubling  float64 // 0 is 4.2 for sorghum aphids; others have none
	// Sources of what is set, for screens and files; "" is "given".
	TreatSource    string
	WatchSource    string
	DoublingSource string
}

// Levels are the levels in use and where each comes from, for every screen and
// file that shows them.
type Levels struct {
	zones.Levels
	TreatSource string
	WatchSource string
	NextVisit   float64 // days to the next visit that the watch level is good for
	Doubling    float64 // days; 0 where no growth is known or meant
	Preset      bool    // the treat level is the published one for sorghum aphids, not the user's
}

// sorghumAphid are the names under which samples may name the pest whose level
// is known: Melanaphis sorghi, until about 2021 published as M. sacchari
// (Brewer et al. 2022, Front. Insect Sci. 2:830997).
var sorghumAphid = map[string]bool{
	"sorghum aphid": true, "sorghum aphids": true, "sugarcane aphid": true, "sugarcane aphids": true,
	"melanaphis sorghi": true, "melanaphis sacchari": true, "m. sorghi": true, "m. sacchari": true, "sca": true,
}

// IsSorghumAphid reports whether a pest's name means the aphid whose published
// level may stand in for one of the user's own.
func IsSorghumAphid(pest string) bool {
	return sorghumAphid[strings.ToLower(strings.Join(strings.Fields(strings.ReplaceAll(pest, "_", " ")), " "))]
}

// levelsFor fills in what is unset. A pest without a known level, and counts
// that are not a mean per leaf, need levels from the user.
func levelsFor(pest string, stat Statistic, set LevelSettings) (Levels, error) {
	known := pest == "" || IsSorghumAphid(pest)
	l := Levels{TreatSource: cmp.Or(set.TreatSource, "given"), WatchSource: cmp.Or(set.WatchSource, "given")}
	l.TreatAt = set.TreatAt
	if l.TreatAt == 0 {
		switch {
		case stat.Share():
			return l, fmt.Errorf("the levels of a share are in %% of %s: give --treat-at and --watch-at, from the rule that names %s", rules.Plural(stat.unit()), stat.named())
		case known && stat.unit() != "leaf":
			return l, fmt.Errorf("the published level of sorghum aphids is a mean per leaf, and these are counts per %s: give --treat-at per %s from your local extension service or label, or a --rule", stat.unit(), stat.unit())
		case !known:
			return l, fmt.Errorf("no level is known for %q: give --treat-at from your local extension service or label, in counts per %s", pest, stat.unit())
		}
		l.TreatAt, l.TreatSource, l.Preset = sorghumAphidTreatAt, sorghumAphidSource, true
	}
	l.NextVisit, l.Doubling = cmp.Or(set.NextVisit, visit.Usual), set.Doubling
	if l.Doubling == 0 && known && !stat.Share() {
		l.Doubling = sorghumAphidDoubling
	}
	if l.WatchAt = set.WatchAt; l.WatchAt == 0 {
		if err := l.watchFromGrowth(known && !stat.Share(), set); err != nil {
			return l, err
		}
	}
	if err := l.Validate(); err != nil {
		return l, err
	}
	return l, nil
}

// watchFromGrowth sets the density that doubles its way up to the treat level
// until the next visit: treat · 2^(−days/doubling).
func (l *Levels) watchFromGrowth(known bool, set LevelSettings) error {
	days, doubling := set.NextVisit, set.Doubling
	if days == 0 {
		days = visit.Usual
	}
	source := cmp.Or(set.DoublingSource, "given")
	if doubling == 0 {
		if !known {
			return fmt.Errorf("no growth is known to put the watch level at: give --watch-at, or --doubling in days")
		}
		doubling, source = sorghumAphidDoubling, "50 to 500 per leaf in 14 days, Texas extension"
	}
	if !(days > 0 && doubling > 0) || math.IsInf(days, 0) || math.IsInf(doubling, 0) {
		return fmt.Errorf("next visit in %g days, doubling in %g days: want numbers above 0", days, doubling)
	}
	l.WatchAt = l.TreatAt * math.Exp2(-days/doubling)
	l.WatchSource = fmt.Sprintf("reaches the treat level within %g days, doubling every %g (%s)", days, doubling, source)
	return nil
}
