package rules

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/geocoris/geocoris/internal/language/vocabulary"
)

// Sampling is how the counts for a rule are taken, where a source tells it. Zero
// fields are not known.
type Sampling struct {
	Places int     `toml:"places" json:"places"` // stops in a field, at least
	Units  int     `toml:"units" json:"units"`   // at a stop: plants where the rule counts leaves of plants
	Parts  int     `toml:"parts" json:"parts"`   // leaves of a plant
	Which  string  `toml:"which" json:"which"`   // which of them
	Total  int     `toml:"total" json:"total"`   // units in all, on Acres
	Acres  float64 `toml:"acres" json:"acres"`
	Source string  `toml:"source" json:"source"`
}

func (s Sampling) validate() error {
	switch {
	case s == Sampling{}:
		return nil
	case s.Places < 0 || s.Units < 0 || s.Parts < 0 || s.Total < 0 || !sane(s.Acres):
		return errors.New("numbers must be finite and not negative")
	case (s.Total > 0) != (s.Acres > 0):
		return errors.New("total and acres go together")
	case strings.TrimSpace(s.Source) == "":
		return errors.New("has no source")
	}
	return nil
}

// usualThings are looked at at a stop where no source tells; our choice, no source.
const usualThings = 10

// A Column is one that a rule is fed by: its header in a table, what it says on paper, ""
// where it is for the table alone, and what a table to be filled in holds already; "" is
// blank.
type Column struct{ Header, Title, Filled string }

// Needs are what is to be written down at a stop so that a rule can be fed at a stage.
type Needs struct {
	Level   Level
	Columns []Column // beside those of place, time and observer
	How     string   // how many units and parts a stop, and which
	Rows    int      // of the table at a stop
	Units   int      // looked at at a stop: plants where the rule counts leaves of plants
	Parts   int      // of a unit, such as leaves of a plant; 1 where it has none
	Places  int      // stops in a field, at least; 0 is not given
}

// Needs are what the rule needs at a growth stage, prices apart. stops and acres, of the
// field that is walked, are asked where a source tells how many units in all; 0 where
// they are not known.
func (r Rule) Needs(stage string, stops int, acres float64) (Needs, error) {
	band, at, err := r.band(stage)
	if err != nil {
		return Needs{}, err
	}
	if band.Value == 0 && band.Loss == 0 && r.Formula == "" {
		return Needs{}, &NoNumber{Rule: r, Stage: cmp.Or(at, strings.Join(band.Stages, ", ")), Advice: band.Advice}
	}
	return needsOf(Level{Rule: r, Band: band, Stage: at}, stops, acres), nil
}

func needsOf(l Level, stops int, acres float64) Needs {
	r, s := l.Rule, l.Rule.Sampling
	n := Needs{Level: l, Rows: 1, Places: s.Places}
	units := s.Units
	if s.Total > 0 && stops > 0 && acres > 0 {
		units = max(units, int(math.Ceil(float64(s.Total)*math.Max(1, acres/s.Acres)/float64(stops))))
	}
	known, of := units > 0, vocabulary.UnitOf(r.Unit)
	if !known {
		units = max(1, usualThings/of.Size)
	}
	n.How, n.Units, n.Parts = howOf(r, units, known), units, max(1, s.Parts)
	effort := units * of.Size
	if r.Unit == "leaf" && s.Parts > 0 {
		effort *= s.Parts
	}
	if r.Statistic == Share && r.Unit == "leaf" { // each leaf by itself
		n.Rows, n.Columns = effort, []Column{{"leaf", "leaf", ""}, {"count", "count", ""}}
		return n
	}
	n.Columns = columnsOf(l, strconv.Itoa(effort))
	return n
}

// lookedAt is what is looked at at a stop, and how many of them a unit of the rule is: plants
// where leaves of plants are counted.
func (r Rule) lookedAt() vocabulary.Unit {
	if r.Unit == "leaf" && r.Sampling.Parts > 0 {
		return vocabulary.UnitOf("plant")
	}
	return vocabulary.UnitOf(r.Unit)
}

// howOf is the sampling in words.
func howOf(r Rule, units int, known bool) string {
	s, of := r.Sampling, r.lookedAt()
	how := fmt.Sprintf("at each stop %d %s", units*of.Size, Plural(of.Thing))
	if s.Parts > 0 {
		how += fmt.Sprintf(", %d leaves a plant", s.Parts)
	}
	if s.Which != "" {
		how += ": " + s.Which
	}
	if s.Total > 0 {
		how += fmt.Sprintf("; %d %s on %g acres in all", s.Total*of.Size, Plural(of.Thing), s.Acres)
	}
	if !known {
		return how + " (how many is our choice, no source)"
	}
	return how + " (" + s.Source + ")"
}

// Counting is how many are counted for the rule, in words; "" where no source tells. Which
// they are, and who says so, is of its Sampling.
func (r Rule) Counting() string {
	s, of := r.Sampling, r.lookedAt()
	if s.Source == "" {
		return ""
	}
	var parts []string
	if s.Places > 0 {
		parts = append(parts, fmt.Sprintf("at least %d places", s.Places))
	}
	if s.Units > 0 {
		parts = append(parts, fmt.Sprintf("%d %s at each", s.Units*of.Size, Plural(of.Thing)))
	}
	if s.Parts > 0 {
		parts = append(parts, fmt.Sprintf("%d leaves a plant", s.Parts))
	}
	if s.Total > 0 {
		parts = append(parts, fmt.Sprintf("%d %s on %g acres", s.Total*of.Size, Plural(of.Thing), s.Acres))
	}
	return strings.Join(parts, ", ")
}

// columnsOf are the columns by which a level is fed.
func columnsOf(l Level, effort string) []Column {
	r, of := l.Rule, vocabulary.UnitOf(l.Rule.Unit)
	unit := Plural(of.Thing)
	looked := Column{of.Column(), unit, effort}
	if r.Statistic == Share {
		over := Column{"plants_over", strings.TrimPrefix(r.StatedAs(l.Band), fmt.Sprintf("%g %% of ", l.Band.Value)), ""}
		if l.Band.Sign != "" {
			return []Column{looked, over, {"at_or_above", "", l.Band.Sign}}
		}
		return []Column{looked, over, {"at_or_above", "", fmt.Sprintf("%g", l.Band.Tally)}}
	}
	columns := []Column{{"count", "count", ""}, looked}
	if r.Measure != "" {
		columns[0] = Column{"mean", r.Measure + ", mean", ""}
	}
	if r.InfestedShare > 0 {
		columns = append(columns, Column{"infested", Plural(r.Unit) + " with the pest", ""})
	}
	return columns
}
