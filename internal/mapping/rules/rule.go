package rules

import (
	"fmt"
	"math"
	"strings"

	"github.com/geocoris/geocoris/internal/language/vocabulary"
)

// The statistics a rule can be about.
const (
	Mean  = "mean"  // counts per unit
	Share = "share" // % of units at or above a tally, or with a sign
)

// A Rule is a published threshold.
type Rule struct {
	Name           string   `toml:"name" json:"name"`
	Pest           string   `toml:"pest" json:"pest"`
	Crop           string   `toml:"crop" json:"crop"`
	Region         string   `toml:"region" json:"region"`
	Unchecked      bool     `toml:"region_unchecked" json:"region_unchecked,omitempty"` // the source was not asked whether it is for that region
	Source         string   `toml:"source" json:"source"`
	Year           int      `toml:"year" json:"year"`   // 0 is not given
	Basis          string   `toml:"basis" json:"basis"` // how its figures are known: read, not checked …
	Statistic      string   `toml:"statistic" json:"statistic"`
	Unit           string   `toml:"unit" json:"unit"`       // what is counted or judged: leaf, plant, stem …
	Part           string   `toml:"part" json:"part"`       // of a share: the part of the unit that must reach the tally, as a leaf of a plant
	Measure        string   `toml:"measure" json:"measure"` // what is entered in place of a number of insects, as % of leaf area eaten; "" for none
	Yield          string   `toml:"yield" json:"yield"`     // unit of yield that a price is for, where bands go by the loss
	About          string   `toml:"about" json:"about"`
	Note           string   `toml:"note" json:"note"`
	Default        bool     `toml:"default" json:"default"`               // stands in for its pest when no rule is named
	Formula        string   `toml:"formula" json:"formula"`               // how the level is computed where none is fixed
	InfestedShare  float64  `toml:"infested_share" json:"infested_share"` // % of units that must be infested besides; 0 asks for none
	DoublingDays   float64  `toml:"doubling_days" json:"doubling_days"`   // 0 is not known
	DoublingSource string   `toml:"doubling_source" json:"doubling_source"`
	RevisitDays    float64  `toml:"revisit_days" json:"revisit_days"` // 0 is not given
	Sampling       Sampling `toml:"sampling" json:"sampling"`
	Bands          []Band   `toml:"bands" json:"bands"`
}

// A Band is the level of a rule at some growth stages.
type Band struct {
	Stages []string `toml:"stages" json:"stages"` // none means every stage
	Value  float64  `toml:"value" json:"value"`   // per unit, or %; 0 where the band has advice only
	To     float64  `toml:"to" json:"to"`         // upper end where Value begins a range; else 0
	Loss   float64  `toml:"loss" json:"loss"`     // of a mean, in place of Value: yield lost on an acre for each pest per unit, see [Rule.AtPrices]
	Tally  float64  `toml:"tally" json:"tally"`   // of a share: a unit counts from this many on
	Sign   string   `toml:"sign" json:"sign"`     // of a share: what a unit must show, where no count tells it
	Advice string   `toml:"advice" json:"advice"` // in place of a value
}

// Validate reports what a rule lacks or cannot mean.
func (r Rule) Validate() error {
	for _, f := range []struct{ name, value string }{
		{"name", r.Name}, {"pest", r.Pest}, {"source", r.Source}, {"unit", r.Unit},
	} {
		if strings.TrimSpace(f.value) == "" {
			return fmt.Errorf("rule %q has no %s", r.Name, f.name)
		}
	}
	switch {
	case r.Statistic != Mean && r.Statistic != Share:
		return fmt.Errorf("rule %q: statistic %q: want mean or share", r.Name, r.Statistic)
	case len(r.Bands) == 0:
		return fmt.Errorf("rule %q has no bands", r.Name)
	case r.Part != "" && r.Statistic == Mean:
		return fmt.Errorf("rule %q: a part is for shares only", r.Name)
	case !sane(r.InfestedShare) || r.InfestedShare > 100:
		return fmt.Errorf("rule %q: infested_share %g: want 0 to 100", r.Name, r.InfestedShare)
	case !sane(r.DoublingDays) || !sane(r.RevisitDays):
		return fmt.Errorf("rule %q: days must be finite and not negative", r.Name)
	case r.DoublingDays > 0 && r.DoublingSource == "":
		return fmt.Errorf("rule %q: doubling_days without doubling_source", r.Name)
	}
	if err := r.Sampling.validate(); err != nil {
		return fmt.Errorf("rule %q: sampling: %w", r.Name, err)
	}
	seen := map[string]bool{}
	for i, b := range r.Bands {
		if err := b.validate(r.Statistic); err != nil {
			return fmt.Errorf("rule %q: band %d: %w", r.Name, i+1, err)
		}
		if b.Loss > 0 && r.Yield == "" {
			return fmt.Errorf("rule %q: band %d: a loss without yield, the unit that it is in", r.Name, i+1)
		}
		if len(b.Stages) == 0 && len(r.Bands) > 1 {
			return fmt.Errorf("rule %q: band %d: names no stages, but is not the only one", r.Name, i+1)
		}
		for _, s := range b.Stages {
			if key := StageBand(s); seen[key] {
				return fmt.Errorf("rule %q: band %d: stage %q is in two bands", r.Name, i+1, s)
			} else {
				seen[key] = true
			}
		}
	}
	return nil
}

func (b Band) validate(statistic string) error {
	switch {
	case !sane(b.Value) || !sane(b.To) || !sane(b.Tally) || !sane(b.Loss):
		return fmt.Errorf("numbers must be finite and not negative")
	case b.Value == 0 && b.Loss == 0 && b.Advice == "":
		return fmt.Errorf("has neither a value nor advice")
	case b.Loss > 0 && (b.Value > 0 || b.Advice != "" || statistic != Mean):
		return fmt.Errorf("a loss stands in place of the value of a mean")
	case b.To != 0 && b.To <= b.Value:
		return fmt.Errorf("a range from %g to %g", b.Value, b.To)
	case statistic == Mean && (b.Tally != 0 || b.Sign != ""):
		return fmt.Errorf("tally and sign are for shares only")
	case statistic == Share && b.Value > 100:
		return fmt.Errorf("a share of %g %%", b.Value)
	case statistic == Share && b.Value > 0 && (b.Tally == 0) == (b.Sign == ""):
		return fmt.Errorf("a share needs a tally or a sign, and one of them only")
	}
	return nil
}

// sane numbers are finite and not negative.
func sane(v float64) bool { return v >= 0 && !math.IsInf(v, 0) }

// Holds reports whether a band holds at a stage, given as in [StageBand].
func (b Band) Holds(stage string) bool {
	if len(b.Stages) == 0 {
		return true
	}
	for _, s := range b.Stages {
		if StageBand(s) == StageBand(stage) {
			return true
		}
	}
	return false
}

// StatedAs is a band's level in words: "40 per leaf", "20 % of plants with a leaf
// at or above 50".
func (r Rule) StatedAs(b Band) string {
	if b.Loss > 0 {
		return fmt.Sprintf("cost of control on an acre/(%g · price of a %s) per %s", b.Loss, r.Yield, r.Unit)
	}
	if b.Value == 0 {
		return b.Advice
	}
	level := fmt.Sprintf("%g", b.Value)
	if b.To > 0 {
		level = fmt.Sprintf("%g–%g", b.Value, b.To)
	}
	if r.Statistic == Mean {
		if r.Measure != "" {
			level += " " + r.Measure
		}
		return level + " per " + r.Unit
	}
	who := fmt.Sprintf("%s %% of %s", level, Plural(r.Unit))
	switch {
	case b.Sign != "":
		return who + " with " + b.Sign
	case b.Tally == 1:
		return who + " with the pest"
	case r.Part != "":
		return fmt.Sprintf("%s with a %s at or above %g", who, r.Part, b.Tally)
	}
	return fmt.Sprintf("%s at or above %g", who, b.Tally)
}

// Cited is the source with the year where it does not name it, and how the
// figures and the region are known where they were not read.
func (r Rule) Cited() string {
	s := r.Source
	if year := fmt.Sprint(r.Year); r.Year > 0 && !strings.Contains(s, year) {
		s += " (" + year + ")"
	}
	if r.Basis != "" && r.Basis != "read" {
		s += " (" + r.Basis + ")"
	}
	if r.Unchecked {
		s += " (region not checked there)"
	}
	return s
}

// Plural is the plural of a unit, which may be one already: 10 sweeps.
func Plural(unit string) string { return vocabulary.English.Things(2, unit) }
